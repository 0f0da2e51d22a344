'use client';

import { useWatch } from 'react-hook-form';
import { CheckField } from '@/components/forms/check-field';
import { ChoiceField } from '@/components/forms/choice-field';
import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { SelectField } from '@/components/forms/select-field';
import { type CalendarDay, daysBetween, isCalendarDay } from '@/lib/registry/calendar-day';
import { COMPLICATION_TYPES, complicationType, HARMS, severityOf } from '@/lib/registry/complications';
import { SEVERITY_CHOICES } from '@/lib/registry/forms/complication-entries';
import styles from './complication-fields.module.css';

interface FactsFieldsProps {
  readonly performedOn: CalendarDay;
  readonly today: string;
  /** Words of the four facts; what was reported and what was adjudicated have their own. */
  readonly labels: Readonly<Record<'type' | 'onsetOn' | 'harms' | 'severity', string>>;
}

/** What decides how a complication counts: which one, since when, what it led to, and how severe that makes it. */
export function FactsFields({ performedOn, today, labels }: FactsFieldsProps) {
  const [typed, onset]: unknown[] = useWatch({ name: ['type', 'onsetOn'] });
  const type = complicationType(String(typed ?? ''));
  const day =
    typeof onset === 'string' && isCalendarDay(onset)
      ? `Day ${daysBetween(performedOn, onset)} after the procedure.`
      : `The procedure was on ${performedOn}.`;
  return (
    <>
      <FieldGroup legend="What happened">
        <FieldRow>
          <SelectField
            name="type"
            label={labels.type}
            hint={type?.definition}
            choices={COMPLICATION_TYPES}
            emptyLabel="choose one"
            required
          />
          <DayField name="onsetOn" label={labels.onsetOn} hint={day} today={today} required />
        </FieldRow>
      </FieldGroup>
      <FieldGroup legend={labels.harms} hint="Tick all that apply; none may.">
        <FieldRow>
          {HARMS.map((harm) => (
            <CheckField
              key={harm.code}
              name={`harms.${harm.code}`}
              label={harm.label}
              hint={harm.definition}
            />
          ))}
        </FieldRow>
        <RuleSays />
        <ChoiceField name="severity" label={labels.severity} choices={SEVERITY_CHOICES} required />
      </FieldGroup>
    </>
  );
}

/** The severity that the rule gives to what is typed so far, with its reason. */
function RuleSays() {
  const [typed, ticks]: unknown[] = useWatch({ name: ['type', 'harms'] });
  const type = COMPLICATION_TYPES.find(({ code }) => code === typed);
  const ticked = new Set(
    Object.entries(typeof ticks === 'object' && ticks !== null ? ticks : {}).flatMap(([code, value]) =>
      value === true ? [code] : [],
    ),
  );
  const harms = HARMS.map(({ code }) => code).filter((code) => ticked.has(code));
  return (
    <p className={styles.rule} role="status">
      {type
        ? `By the rule: ${severityOf(type.code, harms).reason}`
        : 'The rule says how severe it is once the complication is chosen.'}
    </p>
  );
}

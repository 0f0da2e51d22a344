'use client';

import { type MouseEvent, useEffect, useRef } from 'react';
import { useFieldArray, useFormContext } from 'react-hook-form';
import { ListFindings } from '@/components/forms/field-group';
import { NumberField } from '@/components/forms/number-field';
import { SelectField } from '@/components/forms/select-field';
import { Button } from '@/components/ui/button';
import { SLOT_KINDS } from '@/lib/registry/follow-up-schedule';
import { SLOT_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import { DUE_UNITS, emptySlot, MOST_SLOTS, type ScheduleFormInput } from '@/lib/registry/forms/schedule-form';
import { REQUIRED_EVIDENCE } from '@/lib/registry/slot-evidence';
import styles from './schedule-rows.module.css';

/** Leaving a field may show a finding and move everything below; the press would then miss the button. */
const staySteady = (event: MouseEvent) => event.preventDefault();
const HEADS = Object.values(LABELS);

/** The contacts of a schedule, one line each, in any order. */
export function ScheduleRows() {
  const { control } = useFormContext<ScheduleFormInput>();
  const { fields, append, remove } = useFieldArray({ control, name: 'slots' });
  const section = useRef<HTMLElement>(null);
  const removed = useRef<number>(undefined);
  // The button that was pressed is gone with its row: the focus goes to the row in its place, or to the button that adds one.
  useEffect(() => {
    if (removed.current === undefined || !section.current) return;
    const rows = section.current.querySelectorAll('fieldset');
    const row = rows.item(Math.min(removed.current, fields.length - 1));
    (row ?? section.current).querySelector<HTMLElement>('button')?.focus();
    removed.current = undefined;
  }, [fields.length]);
  const take = (index: number) => {
    removed.current = index;
    remove(index);
  };
  return (
    <section ref={section} aria-label="Contacts" data-group="Contacts">
      <h2 className={styles.title}>Contacts</h2>
      <div className={styles.heads} aria-hidden="true">
        <span />
        {HEADS.map((head) => (
          <span key={head}>{head}</span>
        ))}
      </div>
      {fields.map((field, index) => (
        <SlotRow key={field.id} index={index} onRemove={() => take(index)} />
      ))}
      {fields.length < MOST_SLOTS ? (
        <p>
          <Button onMouseDown={staySteady} onClick={() => append(emptySlot)}>
            Add a contact
          </Button>
        </p>
      ) : null}
      <ListFindings name="slots" label="Contacts" />
    </section>
  );
}

function SlotRow({ index, onRemove }: { index: number; onRemove: () => void }) {
  const name = <Field extends keyof typeof LABELS>(field: Field) => `slots.${index}.${field}` as const;
  const choices = { emptyLabel: 'choose one' };
  return (
    <fieldset data-group={`Contact ${index + 1}`} className={styles.row}>
      <legend className="visually-hidden">Contact {index + 1}</legend>
      <span className={styles.number} aria-hidden="true">
        {index + 1}
      </span>
      <SelectField<ScheduleFormInput>
        name={name('kind')}
        label={LABELS.kind}
        choices={SLOT_KINDS}
        {...choices}
      />
      <NumberField<ScheduleFormInput> name={name('amount')} label={LABELS.amount} />
      <SelectField<ScheduleFormInput>
        name={name('unit')}
        label={LABELS.unit}
        choices={DUE_UNITS}
        {...choices}
      />
      <NumberField<ScheduleFormInput>
        name={name('windowBeforeDays')}
        label={LABELS.windowBeforeDays}
        unit="days"
      />
      <NumberField<ScheduleFormInput>
        name={name('windowAfterDays')}
        label={LABELS.windowAfterDays}
        unit="days"
      />
      <SelectField<ScheduleFormInput>
        name={name('evidence')}
        label={LABELS.evidence}
        choices={REQUIRED_EVIDENCE}
        {...choices}
      />
      <Button weight="quiet" onMouseDown={staySteady} onClick={onRemove}>
        Remove<span className="visually-hidden"> contact {index + 1}</span>
      </Button>
    </fieldset>
  );
}

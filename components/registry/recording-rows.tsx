'use client';

import { useFieldArray, useFormContext, useWatch } from 'react-hook-form';
import { CheckField } from '@/components/forms/check-field';
import { ChoiceField } from '@/components/forms/choice-field';
import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow, ListFindings } from '@/components/forms/field-group';
import { NumberField } from '@/components/forms/number-field';
import { SelectField } from '@/components/forms/select-field';
import { Button } from '@/components/ui/button';
import { RECORDING_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import { emptyRecording } from '@/lib/registry/forms/recording-entries';
import { MOST_RECORDINGS, type VisitFormInput } from '@/lib/registry/forms/visit-form';
import { RECORDING_KINDS, RECORDING_SOURCES, RHYTHMS } from '@/lib/registry/vocabulary';
import styles from './rows.module.css';

const YES_NO = [
  { code: 'yes', label: 'yes' },
  { code: 'no', label: 'no' },
] as const;

/** The recordings of a visit. A new row is an ECG of the visit's day, seen by the lab: the commonest one needs only its rhythm. */
export function RecordingRows({ today }: { today: string }) {
  const { control, getValues } = useFormContext<VisitFormInput>();
  const { fields, append, remove } = useFieldArray({ control, name: 'recordings' });
  const add = () =>
    append({
      ...emptyRecording,
      kind: 'ecg',
      startedOn: String(getValues('visitedOn') || today),
      source: 'seen',
    });
  return (
    <section className={styles.rows} aria-label="Recordings">
      <h2 className={styles.title}>Recordings</h2>
      {fields.map((field, index) => (
        <RecordingRow key={field.id} index={index} onRemove={() => remove(index)} />
      ))}
      {fields.length < MOST_RECORDINGS ? (
        <Button onClick={add}>{fields.length === 0 ? 'Add a recording' : 'Add another recording'}</Button>
      ) : null}
      <ListFindings name="recordings" label="Recordings" />
    </section>
  );
}

function RecordingRow({ index, onRemove }: { index: number; onRemove: () => void }) {
  const { control } = useFormContext<VisitFormInput>();
  const row = useWatch({ control, name: `recordings.${index}` });
  // A field that holds something stays in sight, so that a finding about it can be mended.
  const found = (row.rhythm !== '' && row.rhythm !== 'sinus' && row.rhythm !== 'other') || holdsEpisode(row);
  const runs = row.kind === 'holter' || row.kind === 'implanted' || Boolean(row.hours);
  const name = <Field extends keyof typeof LABELS>(field: Field) => `recordings.${index}.${field}` as const;
  return (
    <FieldGroup
      legend={`Recording ${index + 1}`}
      actions={
        <Button weight="quiet" onClick={onRemove}>
          Remove recording {index + 1}
        </Button>
      }
    >
      <FieldRow>
        <SelectField<VisitFormInput>
          name={name('kind')}
          label={LABELS.kind}
          choices={RECORDING_KINDS}
          emptyLabel="choose one"
          required
        />
        <DayField<VisitFormInput> name={name('startedOn')} label={LABELS.startedOn} required />
        {runs ? (
          <NumberField<VisitFormInput> name={name('hours')} label={LABELS.hours} unit="h" decimals />
        ) : null}
        <SelectField<VisitFormInput>
          name={name('rhythm')}
          label={LABELS.rhythm}
          choices={RHYTHMS}
          emptyLabel="choose one"
          required
        />
        <ChoiceField<VisitFormInput>
          name={name('source')}
          label={LABELS.source}
          choices={RECORDING_SOURCES}
          required
        />
      </FieldRow>
      {found ? (
        <FieldRow>
          <CheckField<VisitFormInput>
            name={name('wholeTracing')}
            label={LABELS.wholeTracing}
            hint="The arrhythmia is there from the first beat to the last."
          />
          <NumberField<VisitFormInput>
            name={name('longestEpisodeSeconds')}
            label={LABELS.longestEpisodeSeconds}
            unit="s"
          />
          <DayField<VisitFormInput> name={name('episodeStartedOn')} label={LABELS.episodeStartedOn} />
          <DayField<VisitFormInput> name={name('episodeEndedOn')} label={LABELS.episodeEndedOn} />
          <ChoiceField<VisitFormInput>
            name={name('symptomatic')}
            label={LABELS.symptomatic}
            choices={YES_NO}
            emptyLabel="not recorded"
          />
        </FieldRow>
      ) : null}
    </FieldGroup>
  );
}

type RecordingInput = NonNullable<VisitFormInput['recordings']>[number];

function holdsEpisode(row: RecordingInput): boolean {
  const { wholeTracing, longestEpisodeSeconds, episodeStartedOn, episodeEndedOn, symptomatic } = row;
  return (
    wholeTracing === true ||
    [longestEpisodeSeconds, episodeStartedOn, episodeEndedOn, symptomatic].some(Boolean)
  );
}

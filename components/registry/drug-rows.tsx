'use client';

import { useFieldArray, useFormContext } from 'react-hook-form';
import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow, ListFindings } from '@/components/forms/field-group';
import { SelectField } from '@/components/forms/select-field';
import { Button } from '@/components/ui/button';
import { DRUGS } from '@/lib/registry/drugs';
import { DRUG_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import { emptyDrugRow, MOST_DRUG_ROWS, type VisitFormInput } from '@/lib/registry/forms/visit-form';
import styles from './rows.module.css';

/** Drugs that began or ended since the last visit, as episodes with their days. */
export function DrugRows() {
  const { control } = useFormContext<VisitFormInput>();
  const { fields, append, remove } = useFieldArray({ control, name: 'drugs' });
  return (
    <section className={styles.rows} aria-label="Drugs that changed">
      <h2 className={styles.title}>Drugs that changed</h2>
      {fields.map((field, index) => (
        <FieldGroup
          key={field.id}
          legend={`Drug ${index + 1}`}
          hint="To end one that is known already, give the same drug and start with its last day."
          actions={
            <Button weight="quiet" onClick={() => remove(index)}>
              Remove drug {index + 1}
            </Button>
          }
        >
          <FieldRow>
            <SelectField<VisitFormInput>
              name={`drugs.${index}.drug`}
              label={LABELS.drug}
              choices={DRUGS}
              emptyLabel="choose one"
              required
            />
            <DayField<VisitFormInput> name={`drugs.${index}.startedOn`} label={LABELS.startedOn} required />
            <DayField<VisitFormInput>
              name={`drugs.${index}.stoppedOn`}
              label={LABELS.stoppedOn}
              hint="Empty: still taken."
            />
          </FieldRow>
        </FieldGroup>
      ))}
      {fields.length < MOST_DRUG_ROWS ? (
        <Button onClick={() => append(emptyDrugRow)}>
          {fields.length === 0 ? 'Add a drug' : 'Add another drug'}
        </Button>
      ) : null}
      <ListFindings name="drugs" label="Drugs that changed" />
    </section>
  );
}

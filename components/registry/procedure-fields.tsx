'use client';

import { ChoiceField } from '@/components/forms/choice-field';
import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { NumberField } from '@/components/forms/number-field';
import { type Choice, SelectField } from '@/components/forms/select-field';
import { TextField } from '@/components/forms/text-field';
import { PROCEDURE_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import { PROCEDURE_NUMBERS as NUMBERS, type ProcedureFormInput } from '@/lib/registry/forms/procedure-form';
import {
  ABORT_REASONS,
  ANAESTHESIAS,
  ANTICOAGULATIONS,
  DEVICE_TYPES,
  IMAGINGS,
  INDICATIONS,
  THROMBUS_EXCLUSIONS,
} from '@/lib/registry/procedure-vocabulary';
import { readUnit } from '@/lib/registry/units';
import { ENERGIES, RHYTHMS, STEERINGS, STRATEGIES } from '@/lib/registry/vocabulary';

function Amount({ name, hint }: { name: keyof typeof NUMBERS; hint?: string }) {
  const { label, unit, decimals } = NUMBERS[name];
  return (
    <NumberField<ProcedureFormInput>
      name={name}
      label={label}
      hint={hint}
      unit={readUnit(unit)}
      decimals={decimals > 0}
    />
  );
}

interface ListProps {
  readonly name: Exclude<keyof ProcedureFormInput, 'baseline' | 'kept'>;
  readonly choices: readonly Choice[];
  readonly hint?: string;
  readonly emptyLabel?: string;
  readonly required?: boolean;
}

function List({ name, ...texts }: ListProps) {
  return <SelectField<ProcedureFormInput> name={name} label={LABELS[name]} {...texts} />;
}

interface ProcedureFieldsProps {
  readonly operators: readonly Choice[];
  readonly today: string;
}

/** What was done. The lesion set has its own form. */
export function ProcedureFields({ operators, today }: ProcedureFieldsProps) {
  return (
    <>
      <FieldGroup legend="Procedure">
        <FieldRow>
          <DayField<ProcedureFormInput>
            name="performedOn"
            label={LABELS.performedOn}
            today={today}
            required
          />
          <Amount name="ageYears" hint="Completed years: a birth year cannot decide 65 or 75." />
          <List name="operatorId" choices={operators} />
          <List name="indication" choices={INDICATIONS} />
        </FieldRow>
        <FieldRow>
          <List name="energy" choices={ENERGIES} emptyLabel="choose one" required />
          <List name="deviceType" choices={DEVICE_TYPES} />
          <List
            name="intendedStrategy"
            hint="As the operator calls it. The lesion set derives its own."
            choices={STRATEGIES}
          />
          <ChoiceField<ProcedureFormInput>
            name="steering"
            label={LABELS.steering}
            choices={STEERINGS}
            emptyLabel="not recorded"
          />
        </FieldRow>
        <FieldRow>
          <List name="imaging" choices={IMAGINGS} />
          <List name="anaesthesia" choices={ANAESTHESIAS} />
          <TextField<ProcedureFormInput>
            name="deviceLot"
            label={LABELS.deviceLot}
            hint="As printed on the package, to find cases in a recall."
            maxLength={30}
          />
          <List name="abortedReason" choices={ABORT_REASONS} emptyLabel="not aborted" />
        </FieldRow>
      </FieldGroup>
      <FieldGroup legend="Blood and rhythm">
        <FieldRow>
          <List name="anticoagulation" choices={ANTICOAGULATIONS} />
          <List name="thrombusExclusion" choices={THROMBUS_EXCLUSIONS} />
          <Amount name="heparinUnits" />
          <Amount name="lowestActS" />
        </FieldRow>
        <FieldRow>
          <List name="rhythmAtStart" choices={RHYTHMS} />
          <List name="rhythmAtEnd" choices={RHYTHMS} />
        </FieldRow>
      </FieldGroup>
      <FieldGroup legend="Times and dose">
        <FieldRow>
          <Amount name="procedureMinutes" />
          <Amount name="leftAtrialMinutes" />
          <Amount name="fluoroscopyMinutes" />
          <Amount name="dapGyCm2" />
          <Amount name="airKermaMgy" />
          <DayField<ProcedureFormInput> name="dischargedOn" label={LABELS.dischargedOn} today={today} />
        </FieldRow>
      </FieldGroup>
    </>
  );
}

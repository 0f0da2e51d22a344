'use client';

import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { NumberField } from '@/components/forms/number-field';
import { SelectField } from '@/components/forms/select-field';
import { CHALLENGE_RESULTS, DRUG_CHALLENGES, VEIN_BLOCKS } from '@/lib/registry/acute-vocabulary';
import { WAITING_MINUTES } from '@/lib/registry/forms/lesion-fields';
import { ACUTE_LABELS as LABELS } from '@/lib/registry/forms/lesion-labels';
import type { LesionValues } from '@/lib/registry/forms/lesion-values';
import { labelOf, STRATEGIES } from '@/lib/registry/vocabulary';

/** What was found at the end: block of the veins, waiting, a drug. Block of lines stands with each line. */
export function AcuteFields() {
  return (
    <div data-after-grid="">
      <FieldGroup legend="Acute endpoint">
        <FieldRow>
          <SelectField<LesionValues>
            name="entranceBlock"
            label={LABELS.entranceBlock}
            choices={VEIN_BLOCKS}
          />
          <SelectField<LesionValues> name="exitBlock" label={LABELS.exitBlock} choices={VEIN_BLOCKS} />
          <NumberField<LesionValues>
            name="waitingMinutes"
            label={LABELS.waitingMinutes}
            unit={WAITING_MINUTES.unit}
            hint="From the last application to the last check."
          />
          <SelectField<LesionValues>
            name="drugChallenge"
            label={LABELS.drugChallenge}
            choices={DRUG_CHALLENGES}
          />
          <SelectField<LesionValues>
            name="drugChallengeResult"
            label={LABELS.drugChallengeResult}
            choices={CHALLENGE_RESULTS}
          />
        </FieldRow>
      </FieldGroup>
    </div>
  );
}

/** A person's word where label and lesions disagree; the operator's label stays as it is. */
export function SettleFields({ labelled }: { labelled: string | null }) {
  return (
    <FieldGroup legend="Strategy">
      <SelectField<LesionValues>
        name="settledStrategy"
        label={LABELS.settledStrategy}
        hint={`The operator’s label: ${labelOf(STRATEGIES, labelled).toLowerCase()}. It stays, and so does what the lesions show; this stands beside them.`}
        choices={STRATEGIES}
        emptyLabel="not settled"
      />
    </FieldGroup>
  );
}

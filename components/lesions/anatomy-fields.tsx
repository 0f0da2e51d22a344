'use client';

import { useWatch } from 'react-hook-form';
import { CheckField } from '@/components/forms/check-field';
import { FieldGroup, ListFindings } from '@/components/forms/field-group';
import { SelectField } from '@/components/forms/select-field';
import { MEASURED_RHYTHMS } from '@/lib/registry/acute-vocabulary';
import { ACUTE_LABELS } from '@/lib/registry/forms/lesion-labels';
import type { LesionValues } from '@/lib/registry/forms/lesion-values';
import { STRUCTURES, VEIN_RINGS } from '@/lib/registry/lesion-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';
import styles from './anatomy-fields.module.css';

interface AnatomyFieldsProps {
  /** True where nothing was stored and the usual four veins are proposed. */
  readonly isProposal: boolean;
  /** Rings that this anatomy offers. */
  readonly rings: readonly string[];
  readonly chosen: readonly string[];
  /** Rings that hold entries: they cannot be put away. */
  readonly held: readonly string[];
  readonly onChoose: (ring: string, isChosen: boolean) => void;
}

/** Which veins there are, and round which of them rings were made. */
export function AnatomyFields({ isProposal, rings, chosen, held, onChoose }: AnatomyFieldsProps) {
  const veins = useWatch<LesionValues, 'veins'>({ name: 'veins' });
  return (
    <FieldGroup legend="Anatomy and rings">
      <fieldset className={styles.ticks}>
        <legend>Veins{isProposal ? ' (the usual four are proposed: check them)' : ''}</legend>
        {VEIN_RINGS.map(({ code, label }) => (
          <CheckField<LesionValues> key={code} name={`veins.${code}`} label={label} />
        ))}
      </fieldset>
      <ListFindings name="veins" label="Veins" />
      <fieldset className={styles.ticks}>
        <legend>Rings of this case</legend>
        {rings.map((ring) => (
          <label key={ring} className={styles.ring}>
            <input
              type="checkbox"
              checked={chosen.includes(ring)}
              disabled={held.includes(ring)}
              onChange={(event) => onChoose(ring, event.target.checked)}
            />
            Round the {labelOf(STRUCTURES, ring).toLowerCase()}
            {held.includes(ring) ? <span className={styles.held}> (holds entries)</span> : null}
          </label>
        ))}
        {Object.values(veins).some(Boolean) ? null : <p>No vein is ticked, so no ring can be made.</p>}
      </fieldset>
      <SelectField<LesionValues>
        name="measuredInRhythm"
        label={ACUTE_LABELS.measuredInRhythm}
        hint="The rhythm in which the amplitudes were measured."
        choices={MEASURED_RHYTHMS}
      />
    </FieldGroup>
  );
}

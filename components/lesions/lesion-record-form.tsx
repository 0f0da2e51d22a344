'use client';

import { useState } from 'react';
import { useFormContext, useWatch } from 'react-hook-form';
import { RecordForm } from '@/components/forms/record-form';
import type { DraftKeeping } from '@/components/forms/use-draft';
import { AmendmentReason } from '@/components/registry/amendment-reason';
import { Button } from '@/components/ui/button';
import { checkLesionsAgainstCase, type LesionContext } from '@/lib/registry/forms/lesion-checks';
import { ELEMENT_FIELDS } from '@/lib/registry/forms/lesion-fields';
import { type LesionFormInput, lesionFormSchema } from '@/lib/registry/forms/lesion-form';
import { type LesionValues, lesionValuesOf, type StoredLesions } from '@/lib/registry/forms/lesion-values';
import {
  offeredStructures,
  proposedRings,
  ringsToBeginWith,
  sortVeins,
  USUAL_VEINS,
} from '@/lib/registry/lesion-anatomy';
import { kindOfStructure, STRUCTURES } from '@/lib/registry/lesion-vocabulary';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { AcuteFields, SettleFields } from './acute-fields';
import { AnatomyFields } from './anatomy-fields';
import { ApplicationFile, type ReadFile } from './application-file';
import { LesionBoard } from './lesion-board';
import { LesionGrid } from './lesion-grid';
import { wordsForLesions } from './lesion-words';
import { useLesionCells } from './use-lesion-cells';

interface LesionRecordFormProps {
  readonly action: (input: WriteInput<LesionFormInput>) => Promise<WriteResult>;
  readonly stored: StoredLesions;
  readonly version: number;
  readonly context: LesionContext;
  /** Reasons for unusual values that were kept. */
  readonly kept: readonly { readonly field: string; readonly reason: string }[];
  readonly draft: DraftKeeping;
  /** Reads a file of single applications on the server. */
  readonly readFile: ReadFile;
  readonly cancelHref: string;
}

/** Records or changes the whole lesion set of a case: by the schematic, and equally by the table. */
export function LesionRecordForm({
  action,
  stored,
  version,
  context,
  kept,
  draft,
  readFile,
  cancelHref,
}: LesionRecordFormProps) {
  const isProposal = stored.veins.length === 0;
  // Somebody else may have stored a set while this one was typed: from then on the form is at another version.
  const needsReason = (seen: unknown) => context.needsReason || seen !== version;
  const begun = isProposal ? { ...stored, veins: USUAL_VEINS } : stored;
  return (
    <RecordForm
      label="Lesion set"
      schema={lesionFormSchema}
      defaultValues={lesionValuesOf(begun, version, kept)}
      action={action}
      draft={draft}
      check={(values) =>
        checkLesionsAgainstCase(values, { ...context, needsReason: needsReason(values.version) })
      }
      wordsFor={wordsForLesions}
      saveLabel="Save the lesion set"
      cancelHref={cancelHref}
    >
      <LesionParts context={context} isProposal={isProposal} readFile={readFile} />
      <AcuteFields />
      <SettleFields labelled={context.intendedStrategy} />
      <ReasonOnceStored needsReason={needsReason} />
    </RecordForm>
  );
}

function ReasonOnceStored({ needsReason }: { needsReason: (seen: unknown) => boolean }) {
  const version = useWatch<LesionValues, 'version'>({ name: 'version' });
  return needsReason(version) ? <AmendmentReason /> : null;
}

/** Past the tick boxes, or past the schematic, for who types the whole set by keyboard. */
function beginInTable(): void {
  document.querySelector<HTMLElement>('[data-row="0"][data-cell="state"]')?.focus();
}

const isRing = (structure: string): boolean => kindOfStructure(structure) !== 'line';

interface LesionPartsProps {
  readonly context: LesionContext;
  readonly isProposal: boolean;
  readonly readFile: ReadFile;
}

function LesionParts({ context, isProposal, readFile }: LesionPartsProps) {
  const { getValues } = useFormContext<LesionValues>();
  const ticks = useWatch<LesionValues, 'veins'>({ name: 'veins' });
  const cells = useLesionCells();
  // A file may fill rings that were not chosen: they are held from then on, which this part has to see.
  const [fillings, setFillings] = useState(0);
  const holdsEntries = (structure: string) =>
    Object.values(getValues(`elements.${structure}`)).some((typed) =>
      ELEMENT_FIELDS.some((field) => typed[field] !== ''),
    );
  const veins = sortVeins(Object.keys(ticks).filter((vein) => ticks[vein]));
  const offered = offeredStructures(veins);
  const held = STRUCTURES.map(({ code }) => code).filter(holdsEntries);
  const [chosen, setChosen] = useState<readonly string[]>(() =>
    ringsToBeginWith(veins, context.intendedStrategy, held.filter(isRing)),
  );
  // A change of veins may take a ring away and bring another: one that it brings is chosen where the plan proposes it.
  const [seen, setSeen] = useState<readonly string[]>(offered);
  if (seen.join() !== offered.join()) {
    const brought = proposedRings(veins, context.intendedStrategy).filter((ring) => !seen.includes(ring));
    setSeen(offered);
    setChosen([...new Set([...chosen, ...brought])]);
  }
  const structures = STRUCTURES.map(({ code }) => code).filter(
    (code) => held.includes(code) || (offered.includes(code) && (!isRing(code) || chosen.includes(code))),
  );
  return (
    <>
      <p>
        <Button onClick={() => beginInTable()}>Begin in the table</Button>
      </p>
      <AnatomyFields
        isProposal={isProposal}
        rings={offered.filter(isRing)}
        chosen={structures}
        held={held}
        onChoose={(ring, isChosen) =>
          setChosen(isChosen ? [...chosen, ring] : chosen.filter((other) => other !== ring))
        }
      />
      <p>
        <Button onClick={() => beginInTable()}>On to the table</Button>
      </p>
      {context.energy === 'radiofrequency' ? (
        <ApplicationFile readFile={readFile} cells={cells} onFilled={() => setFillings(fillings + 1)} />
      ) : null}
      <LesionBoard context={context} structures={structures} cells={cells} />
      <h2>By the table</h2>
      <LesionGrid structures={structures} isRepeat={context.ordinal > 1} cells={cells} />
    </>
  );
}

'use client';

import { useId, useState } from 'react';
import { useFormContext, useWatch } from 'react-hook-form';
import { ScrollBox } from '@/components/tables/scroll-box';
import type { LesionContext } from '@/lib/registry/forms/lesion-checks';
import { draftElements, type LesionValues, type StoredLesions } from '@/lib/registry/forms/lesion-values';
import { accountOf } from '@/lib/registry/lesion-account';
import { sortVeins } from '@/lib/registry/lesion-anatomy';
import { segmentsOf } from '@/lib/registry/lesion-vocabulary';
import { LesionAccountNotes } from './lesion-account-notes';
import styles from './lesion-board.module.css';
import { type Place, Schematic } from './schematic';
import { SchematicButtons } from './schematic-buttons';
import { layOut } from './schematic-layout';
import { SchematicLegend } from './schematic-legend';
import { SegmentPanel } from './segment-panel';
import type { LesionCells } from './use-lesion-cells';

interface LesionBoardProps {
  readonly context: LesionContext;
  /** Rings and lines of the table: the schematic shows the same. */
  readonly structures: readonly string[];
  readonly cells: LesionCells;
}

const textOrNull = (typed: string): string | null => (typed === '' ? null : typed);

/** What stands in the form now, as a stored set would read. */
function draftOf(values: LesionValues): StoredLesions {
  const minutes = Number(values.waitingMinutes);
  return {
    veins: sortVeins(Object.keys(values.veins).filter((vein) => values.veins[vein])),
    measuredInRhythm: textOrNull(values.measuredInRhythm),
    entranceBlock: textOrNull(values.entranceBlock),
    exitBlock: textOrNull(values.exitBlock),
    waitingMinutes: values.waitingMinutes === '' || !Number.isInteger(minutes) ? null : minutes,
    drugChallenge: textOrNull(values.drugChallenge),
    drugChallengeResult: textOrNull(values.drugChallengeResult),
    settledStrategy: textOrNull(values.settledStrategy),
    elements: draftElements(values.elements),
  };
}

/** The schematic of what is being typed, the fields of a chosen segment, and all that follows so far. */
export function LesionBoard({ context, structures, cells }: LesionBoardProps) {
  const { control, getValues } = useFormContext<LesionValues>();
  // Watches the whole form: whatever is typed, wherever, is drawn.
  useWatch({ control });
  const [selected, setSelected] = useState<Place>();
  const [said, setSaid] = useState('');
  const titleId = useId();
  const account = accountOf(draftOf(getValues()), context);
  const shown = account.shown
    .filter(({ structure, isRecorded }) => isRecorded || structures.includes(structure))
    .map((one) => (structures.includes(one.structure) ? { ...one, isRecorded: true } : one));
  const layout = layOut(shown);
  const places = structures.flatMap((structure) =>
    segmentsOf(structure).map((term) => ({ structure, segment: term.code })),
  );
  const next = () => {
    const index = places.findIndex(
      (place) => place.structure === selected?.structure && place.segment === selected.segment,
    );
    setSelected(places[(index + 1) % places.length]);
    setSaid('');
  };
  return (
    <div className={styles.board}>
      <div className={styles.figure}>
        <h2 id={titleId}>By the schematic</h2>
        <ScrollBox labelledBy={titleId}>
          <Schematic layout={layout} description={account.description} selected={selected}>
            <SchematicButtons
              layout={layout}
              selected={selected}
              onSelect={({ structure, segment }) => setSelected({ structure, segment })}
            />
          </Schematic>
        </ScrollBox>
        <SchematicLegend shown={shown} />
      </div>
      <div className={styles.side}>
        {selected ? (
          <SegmentPanel
            place={selected}
            isRepeat={context.ordinal > 1}
            cells={cells}
            onNext={next}
            onFilled={(words) => setSaid(words)}
          />
        ) : (
          <p>
            Choose a segment or a line in the schematic, or type into the table below: both write the same
            set.
          </p>
        )}
        <p role="status" className={styles.said}>
          {said}
        </p>
        <details className={styles.account}>
          <summary>What follows from it so far</summary>
          <LesionAccountNotes account={account} settleHref={undefined} />
        </details>
      </div>
    </div>
  );
}

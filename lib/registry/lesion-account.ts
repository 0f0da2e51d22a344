import { type AcuteEndpoint, acuteEndpointOf } from './acute-endpoint';
import { type DerivedStrategyResult, deriveStrategy } from './derived-strategy';
import type { LesionContext } from './forms/lesion-checks';
import type { StoredLesions } from './forms/lesion-values';
import { inWords } from './in-words';
import { type Completeness, recordedCompleteness } from './lesion-completeness';
import { disagreementsWithFile, lesionFlags } from './lesion-flags';
import { type ShownStructure, shownSet } from './lesion-set';
import { type Reconnections, reconnectionsAt } from './reconnection';
import { applicationFlags, type RfApplication, totalsInWords } from './rf-applications';
import { agreementOf, type StrategyAgreement } from './strategy-agreement';

/** Everything that is computed from a lesion set, in words. */
export interface LesionAccount {
  readonly shown: readonly ShownStructure[];
  /** One sentence: what a drawing of the set shows. */
  readonly description: string;
  readonly completeness: readonly Completeness[];
  readonly endpoint: AcuteEndpoint;
  readonly derived: DerivedStrategyResult;
  readonly agreement: StrategyAgreement;
  readonly reconnections: Reconnections;
  readonly flags: readonly string[];
  /** What single applications add up to, where a file brought them. */
  readonly totals: string | null;
}

/** Reads a lesion set once and says all that follows from it: computed, never claimed. */
export function accountOf(
  stored: StoredLesions,
  context: LesionContext,
  applications: readonly RfApplication[] = [],
): LesionAccount {
  const { energy, deviceType, intendedStrategy, earlier } = context;
  const { elements, veins, settledStrategy } = stored;
  const shown = shownSet({ energy, veins, elements });
  const completeness = recordedCompleteness(shown);
  const derived = deriveStrategy({ energy, deviceType, elements });
  return {
    shown,
    description: descriptionOf(completeness),
    completeness,
    endpoint: acuteEndpointOf(stored, shown),
    derived,
    agreement: agreementOf({
      derived: derived.strategy,
      labelled: intendedStrategy,
      settled: settledStrategy,
    }),
    reconnections: reconnectionsAt(context.ordinal, elements, earlier),
    flags: [
      ...lesionFlags({ energy }, shown),
      ...derived.warnings,
      ...disagreementsWithFile(shown, applications),
      ...applicationFlags(applications),
    ],
    totals: applications.length === 0 ? null : `${totalsInWords(applications)}.`,
  };
}

function descriptionOf(completeness: readonly Completeness[]): string {
  const rings = completeness.filter(({ structure }) => structure.kind !== 'line');
  const lines = completeness.filter(
    ({ structure }) =>
      structure.kind === 'line' && structure.segments.some(({ element }) => element.state === 'done'),
  );
  if (rings.length + lines.length === 0) return 'Lesion set: nothing is recorded as done.';
  const [closed, applicable] = [rings, rings].map((list, i) =>
    list.reduce((sum, one) => sum + (i === 0 ? one.closed : one.applicable), 0),
  );
  const blocked = lines.filter(({ verdict }) => verdict === 'complete');
  const ofRings =
    rings.length === 0
      ? 'no ring'
      : `${closed} of ${applicable} segments closed in ${inWords(rings.map(({ structure }) => structure.label.toLowerCase()))}`;
  const ofLines =
    lines.length === 0 ? 'no line done' : `${blocked.length} of ${lines.length} lines blocked both ways`;
  return `Lesion set: ${ofRings}; ${ofLines}.`;
}

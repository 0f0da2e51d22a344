import type { StateMarkKind } from '@/components/ui/state-mark';
import type { Completeness } from '@/lib/registry/lesion-completeness';
import type { ShownSegment } from '@/lib/registry/lesion-set';

/** The mark of a segment, with the same pattern as in the schematic. */
export function markOfSegment({ state, doneUnjudged, isHeld }: ShownSegment): StateMarkKind {
  if (doneUnjudged) return 'unjudged';
  if (isHeld) return 'held';
  return state === 'still-open' ? 'open' : state;
}

/** The mark of a whole ring; a line has that of its only segment. */
export function markOfStructure({ structure, verdict }: Completeness): StateMarkKind {
  if (structure.kind === 'line') return markOfSegment(structure.segments[0]);
  if (verdict === 'complete') return 'abated';
  return verdict === 'incomplete' ? 'unfinished' : verdict;
}

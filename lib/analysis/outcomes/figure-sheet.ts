import type { ReadableCurve } from '../../statistics/index';
import type { LinkedCount, Slot } from './figure-model';
import type { TickCandidate } from './figure-ticks';

/** What is drawn of one series, before it has a place. */
interface SeriesToDraw {
  readonly slot: Slot;
  readonly name: string;
  readonly curve: ReadableCurve;
  /** Per tick candidate: at risk, then what stands in brackets. */
  readonly counts: readonly (readonly LinkedCount[])[];
}

export interface DrawingContent {
  readonly series: readonly SeriesToDraw[];
  readonly candidates: readonly TickCandidate[];
  readonly entryDay: number;
  /** Last day of blanking; -1 when nothing is blanked. */
  readonly blankedThrough: number;
  readonly lastDay: number;
  readonly axisTitle: string;
  readonly riskHead: string;
}

export interface DrawingSize {
  readonly width: number;
  readonly plotHeight: number;
  readonly left: number;
  readonly mostLabelWidth: number;
  readonly fontSize: number;
  /** What stands in brackets goes under the number at risk: always, or when the tick at 12 months finds no room else. */
  readonly stacked: 'always' | 'for-twelve-months';
  /** Length of the line sample before a name. */
  readonly sample: number;
}

export const WIDE: DrawingSize = {
  width: 760,
  plotHeight: 330,
  left: 52,
  mostLabelWidth: 160,
  fontSize: 12.5,
  stacked: 'for-twelve-months',
  sample: 22,
};
export const NARROW: DrawingSize = {
  width: 400,
  plotHeight: 260,
  left: 50,
  mostLabelWidth: 106,
  fontSize: 13,
  stacked: 'always',
  sample: 18,
};

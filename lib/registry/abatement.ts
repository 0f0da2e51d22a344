import type { SegmentState } from './lesion-vocabulary';

/** What is measured at a segment; microvolt are whole numbers, because floating percent fails 0.80 to 0.08 mV. */
export interface MeasuredElement {
  readonly state: string;
  /** Why a segment is not applicable; null otherwise. */
  readonly stateReason: string | null;
  readonly amplitudeBeforeUv: number | null;
  readonly amplitudeAfterUv: number | null;
}

export interface Abatement {
  readonly verdict: 'abated' | 'open' | 'not-assessable' | 'not-recorded';
  /** Reduced by more than 90 %; null when it cannot be asked. */
  readonly reductionMet: boolean | null;
  /** Below 0.1 mV afterwards; null when it cannot be asked. */
  readonly amplitudeMet: boolean | null;
  readonly reason: string;
}

/** Below this a bipolar amplitude counts as abated, and cannot show a reduction if it was there before. */
const LOW_UV = 100;
/** A single application longer than this is flagged, never blocked. Common practice, no source. */
const LONGEST_APPLICATION_S = 60;

const unasked = (verdict: Abatement['verdict'], reason: string): Abatement => ({
  verdict,
  reductionMet: null,
  amplitudeMet: null,
  reason,
});

/**
 * Electrogram abatement of one ablated segment, from the bipolar peak-to-peak amplitude before and after in microvolt.
 * Abated when reduced by more than 90 % (10 x after < before) or below 0.1 mV (after < 100). Before < 100 µV: low before,
 * not assessable. Before missing: the amplitude criterion alone. Radiofrequency only. The thresholds are ours (common
 * practice, no source), version 1.
 */
export function abatementOf(
  energy: string | null,
  beforeUv: number | null,
  afterUv: number | null,
): Abatement {
  if (energy !== 'radiofrequency') {
    return unasked('not-assessable', 'Abatement is judged for radiofrequency only.');
  }
  if (beforeUv !== null && beforeUv < LOW_UV) return unasked('not-assessable', 'Low before, not assessable.');
  if (afterUv === null) return unasked('not-recorded', 'The amplitude afterwards is not recorded.');
  const amplitudeMet = afterUv < LOW_UV;
  const reductionMet = beforeUv === null ? null : 10 * afterUv < beforeUv;
  const met = [reductionMet ? 'reduced by more than 90 %' : '', amplitudeMet ? 'below 0.1 mV' : ''].filter(
    Boolean,
  );
  const alone = beforeUv === null ? ' The amplitude before is missing: judged by the amplitude alone.' : '';
  return {
    verdict: met.length > 0 ? 'abated' : 'open',
    reductionMet,
    amplitudeMet,
    reason: `${met.length > 0 ? `Abated: ${met.join(' and ')}.` : 'Open: no criterion is met.'}${alone}`,
  };
}

/** The state in which a segment is shown, with the reason in words. */
export function segmentStateOf(
  energy: string | null,
  element: MeasuredElement,
): { readonly state: SegmentState; readonly reason: string } {
  if (element.state === 'not-done') return { state: 'not-done', reason: 'Not done.' };
  if (element.state === 'not-applicable') {
    return { state: 'not-applicable', reason: element.stateReason ?? 'No reason recorded.' };
  }
  if (element.state !== 'done') return { state: 'not-recorded', reason: 'Not recorded.' };
  const { verdict, reason } = abatementOf(energy, element.amplitudeBeforeUv, element.amplitudeAfterUv);
  const state = {
    abated: 'abated',
    open: 'still-open',
    'not-assessable': 'not-applicable',
    'not-recorded': 'not-recorded',
  } as const;
  return { state: state[verdict], reason: `Done. ${reason}` };
}

/** True when the longest single radiofrequency application deserves a look: a flag, not a block. */
export function isLongApplication(energy: string | null, longestSeconds: number | null): boolean {
  return energy === 'radiofrequency' && longestSeconds !== null && longestSeconds > LONGEST_APPLICATION_S;
}

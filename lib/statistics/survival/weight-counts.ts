import type { InfluenceRows } from './influence-rows';

/** Sums of weights per place of the grid, for one group. */
export type WeightCounts = {
  /** Of those at risk there. */
  readonly atRisk: Float64Array;
  readonly events: Float64Array;
  /** Of one kind of event. */
  readonly own: Float64Array;
  readonly censored: Float64Array;
  /** 1 where everybody at risk who has a weight has an event: the curve falls to zero, exactly. */
  readonly allFail: Uint8Array;
};

/** Sums from the last place to the first, so that few at risk are not the rounding of many. */
export function sumWeights(rows: InfluenceRows, placeCount: number, ownCode: number): WeightCounts {
  const { exit, entry, code, weight } = rows;
  const counts: WeightCounts = {
    atRisk: new Float64Array(placeCount),
    events: new Float64Array(placeCount),
    own: new Float64Array(placeCount),
    censored: new Float64Array(placeCount),
    allFail: new Uint8Array(placeCount),
  };
  const entering = new Float64Array(placeCount);
  const present = new Int32Array(placeCount);
  const failing = new Int32Array(placeCount);
  for (let i = 0; i < exit.length; i += 1) {
    const w = weight[i];
    const j = exit[i];
    if (code[i] === 0) counts.censored[j] += w;
    else counts.events[j] += w;
    if (code[i] === ownCode) counts.own[j] += w;
    if (w === 0) continue;
    present[j] += 1;
    if (code[i] !== 0) failing[j] += 1;
    if (entry[i] >= 0) {
      entering[entry[i]] += w;
      present[entry[i]] -= 1;
    }
  }
  let sum = 0;
  let cases = 0;
  for (let j = placeCount - 1; j >= 0; j -= 1) {
    // Who enters at this place is not yet at risk there.
    sum -= entering[j];
    const leaving = counts.events[j] + counts.censored[j];
    sum += leaving;
    cases += present[j];
    counts.allFail[j] = failing[j] > 0 && failing[j] === cases ? 1 : 0;
    counts.atRisk[j] = counts.allFail[j] ? counts.events[j] : sum;
  }
  return counts;
}

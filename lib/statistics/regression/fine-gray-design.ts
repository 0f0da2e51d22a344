import type { Column } from '../check-input';
import { mergeEqualTimes, placeOnGrid } from '../survival/equal-times';

export type TiedFailures = 'at-risk' | 'gone';

/** What the weighted risk sets are made of; rows as given, places on the grid of distinct times. */
export type FineGrayDesign = {
  readonly times: Float64Array;
  readonly place: Int32Array;
  /** 0 censored, 1 the cause, 2 another cause. */
  readonly kind: Uint8Array;
  readonly size: number;
  /** Rows x columns, by rows: (x - centre) / scale, so that nothing large is exponentiated. */
  readonly z: Float64Array;
  readonly centre: Float64Array;
  readonly scale: Float64Array;
  /** Per place: events of the cause, rows censored, and those whom the censoring curve holds at risk. */
  readonly events: Int32Array;
  readonly censored: Int32Array;
  readonly atRisk: Int32Array;
  /** Uncensored just before each place: Kaplan-Meier with censorings for events. */
  readonly uncensored: Float64Array;
  readonly tiedFailures: TiedFailures;
};

/** Columns checked before. */
export function buildFineGrayDesign(
  timeDays: Column,
  status: Column,
  covariates: readonly Column[],
  cause: number,
  tiedFailures: TiedFailures,
): FineGrayDesign {
  const times = mergeEqualTimes(timeDays);
  const place = Int32Array.from(timeDays, (time) => placeOnGrid(times, time));
  const kind = Uint8Array.from(status, (code) => (code === 0 ? 0 : code === cause ? 1 : 2));
  return {
    ...{ times, place, kind, size: covariates.length, tiedFailures },
    ...standardise(covariates, timeDays.length),
    ...followCensoring(place, kind, times.length, tiedFailures),
  };
}

function standardise(
  covariates: readonly Column[],
  rows: number,
): Pick<FineGrayDesign, 'z' | 'centre' | 'scale'> {
  const size = covariates.length;
  const z = new Float64Array(rows * size);
  const centre = new Float64Array(size);
  const scale = new Float64Array(size);
  for (const [j, column] of covariates.entries()) {
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    let sum = 0;
    for (let i = 0; i < rows; i += 1) {
      least = Math.min(least, column[i]);
      most = Math.max(most, column[i]);
      sum += column[i];
    }
    centre[j] = least === most ? least : sum / rows;
    scale[j] = least === most ? 1 : most - least;
    for (let i = 0; i < rows; i += 1) z[i * size + j] = (column[i] - centre[j]) / scale[j];
  }
  return { z, centre, scale };
}

function followCensoring(
  place: Int32Array,
  kind: Uint8Array,
  placeCount: number,
  tiedFailures: TiedFailures,
): Pick<FineGrayDesign, 'events' | 'censored' | 'atRisk' | 'uncensored'> {
  const events = new Int32Array(placeCount);
  const failures = new Int32Array(placeCount);
  const censored = new Int32Array(placeCount);
  for (let i = 0; i < place.length; i += 1) {
    if (kind[i] === 0) censored[place[i]] += 1;
    else failures[place[i]] += 1;
    if (kind[i] === 1) events[place[i]] += 1;
  }
  const atRisk = new Int32Array(placeCount);
  const uncensored = new Float64Array(placeCount);
  let present = place.length;
  let curve = 1;
  for (let j = 0; j < placeCount; j += 1) {
    atRisk[j] = present - (tiedFailures === 'gone' ? failures[j] : 0);
    uncensored[j] = curve;
    if (censored[j] > 0) curve *= (atRisk[j] - censored[j]) / atRisk[j];
    present -= failures[j] + censored[j];
  }
  return { events, censored, atRisk, uncensored };
}

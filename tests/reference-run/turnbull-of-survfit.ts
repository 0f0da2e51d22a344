/** One case as R's Surv(left, right, type = 'interval2') reads it; null for an end that is not known. */
export type LookPair = { readonly left: number | null; readonly right: number | null };

type Kind = 'rightCensored' | 'exact' | 'leftCensored' | 'interval';
type Row = { kind: Kind; readonly from: number; readonly to: number };

const STOP = 5e-5;

/**
 * The values that R's survfit prints for interval-censored data: its self-consistent steps, sped up every fifth time, stop at
 * changes of 0.00005, well before the maximum, and cases hold where they stop. Rows without an interval stay rows of a
 * weighted Kaplan-Meier curve; the others are spread over the jump times. Without any interval one case of weight 1 is spread all the
 * same, so that the answer is not even Kaplan-Meier.
 */
export function turnbullOfSurvfit(cases: readonly LookPair[], asked: readonly number[]): number[] {
  const rows = cases.map(rowOf);
  let jumps = jumpTimes(rows);
  const earliest = Math.min(...jumps);
  for (const row of rows) {
    if (row.kind !== 'leftCensored' || row.from >= earliest) continue;
    row.kind = 'exact';
    jumps.push(row.from);
  }
  if (jumps.length === 0) return asked.map(() => 1);
  jumps = [...new Set(jumps)].sort((a, b) => a - b);
  const fit = iterate(rows, jumps);
  return asked.map((time) => {
    const last = fit.times.findLastIndex((each) => each <= time);
    return last < 0 ? 1 : fit.survival[last];
  });
}

function rowOf({ left, right }: LookPair): Row {
  if (left === null) return { kind: 'leftCensored', from: right ?? 0, to: right ?? 0 };
  if (right === null) return { kind: 'rightCensored', from: left, to: left };
  return { kind: left === right ? 'exact' : 'interval', from: left, to: right };
}

/** Exact times, and the middle of each place where an end follows something that is no end. */
function jumpTimes(rows: readonly Row[]): number[] {
  const ends = rows.flatMap(({ kind, from, to }) => {
    if (kind === 'exact') return [{ time: from, order: 0 }];
    if (kind === 'leftCensored') return [{ time: from, order: 1 }];
    if (kind === 'rightCensored') return [{ time: from, order: 2 }];
    return [
      { time: from, order: 2 },
      { time: to, order: 1 },
    ];
  });
  ends.sort((a, b) => a.time - b.time || a.order - b.order);
  const exact = ends.filter(({ order }) => order === 0).map(({ time }) => time);
  const middles = ends.flatMap(({ time, order }, i) =>
    i > 0 && order === 1 && ends[i - 1].order !== 1 ? [(ends[i - 1].time + time) / 2] : [],
  );
  return [...exact, ...middles];
}

type Fit = { readonly times: readonly number[]; readonly survival: readonly number[] };

function iterate(rows: readonly Row[], jumpTimesOf: readonly number[]): Fit {
  const covers = rows
    .filter(({ kind }) => kind === 'leftCensored' || kind === 'interval')
    .map(({ kind, from, to }) =>
      jumpTimesOf.map((time) => (kind === 'leftCensored' ? time <= from : time > from && time <= to)),
    );
  if (covers.length === 0) covers.push(jumpTimesOf.map(() => true));
  const real = rows.filter(({ kind }) => kind === 'exact' || kind === 'rightCensored');
  const shares = jumpTimesOf.map((_, j) => covers.filter((row) => row[j]).length);
  const total = shares.reduce((sum, share) => sum + share, 0);
  let mass = shares.map((share) => share / total);
  let old = survivalOf(mass);
  let [previous, beforeThat] = [mass.map(() => 0), mass.map(() => 0)];
  let change = mass.map(() => 0);
  for (let count = 1; ; count += 1) {
    const lastChange = change;
    const plain = mass;
    change = mass.map((value, j) => value - previous[j]);
    if (count % 5 === 0) mass = spedUp(plain, beforeThat, lastChange, change, covers);
    [previous, beforeThat] = [plain, previous];
    const fit = weightedKaplanMeier(real, jumpTimesOf, spread(covers, mass));
    const survival = jumpTimesOf.map((time) => fit.survival[fit.times.indexOf(time)]);
    const moved = Math.max(...survival.map((value, j) => Math.abs(value - old[j])));
    if (count % 5 >= 2 && moved <= STOP) return fit;
    old = survival;
    mass = survival.map((value, j) => (j ? survival[j - 1] : 1) - value);
  }
}

function survivalOf(mass: readonly number[]): number[] {
  let left = 1;
  return mass.map((value) => {
    left -= value;
    return left;
  });
}

/** Aitken's extrapolation of each mass, taken back where it leaves (0, 1) and altogether if the likelihood falls. */
function spedUp(
  plain: readonly number[],
  beforeThat: readonly number[],
  lastChange: readonly number[],
  change: readonly number[],
  covers: readonly boolean[][],
): number[] {
  const tried = plain.map((value, j) => {
    const far = beforeThat[j] - lastChange[j] ** 2 / (change[j] - lastChange[j]);
    return far > 0 && far < 1 ? far : value;
  });
  return likelihood(covers, tried) < likelihood(covers, plain) ? [...plain] : tried;
}

const sumOver = (row: readonly boolean[], mass: readonly number[]): number =>
  mass.reduce((sum, value, j) => (row[j] ? sum + value : sum), 0);

const likelihood = (covers: readonly boolean[][], mass: readonly number[]): number =>
  covers.reduce((sum, row) => sum + Math.log(sumOver(row, mass)), 0);

/** Each spread case over the jump times it covers, in proportion to the masses. */
function spread(covers: readonly boolean[][], mass: readonly number[]): number[] {
  const weights = mass.map(() => 0);
  for (const row of covers) {
    const sum = sumOver(row, mass);
    for (const [j, value] of mass.entries()) if (row[j]) weights[j] += (1 / sum) * value;
  }
  return weights;
}

function weightedKaplanMeier(
  real: readonly Row[],
  jumpTimesOf: readonly number[],
  weights: readonly number[],
): Fit {
  const rows = [
    ...real.map(({ from, kind }) => ({ time: from, event: kind === 'exact' ? 1 : 0, weight: 1 })),
    ...jumpTimesOf.map((time, j) => ({ time, event: 1, weight: weights[j] })),
  ].sort((a, b) => a.time - b.time);
  // Sums run from the last time to the first, as in R: the steps are sensitive to rounding.
  const steps: { time: number; atRisk: number; events: number }[] = [];
  let atRisk = 0;
  for (let i = rows.length - 1; i >= 0; ) {
    const { time } = rows[i];
    let events = 0;
    for (; i >= 0 && rows[i].time === time; i -= 1) {
      events += rows[i].event * rows[i].weight;
      atRisk += rows[i].weight;
    }
    steps.unshift({ time, atRisk, events });
  }
  let survival = 1;
  const values = steps.map((step) => {
    if (step.events > 0) survival *= 1 - step.events / step.atRisk;
    return survival;
  });
  return { times: steps.map(({ time }) => time), survival: values };
}

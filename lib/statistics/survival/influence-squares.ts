import { type InfluenceRows, sortByPlace } from './influence-rows';
import type { WeightCounts } from './weight-counts';

/** Per place of the grid: the robust variance of log S, and of the incidence of one kind of event. */
export type InfluenceSquares = { readonly logSurvival: Float64Array; readonly incidence: Float64Array };

/**
 * Sums over clusters of squared influences, at every time, in one pass over the rows.
 *
 * A row of weight w moves log S(t) by -P with P the sum, over the times at which it is at risk, of w (dN - D/N)/(N - D), and
 * the incidence F(t) by X, the sum of S(u-) w (dN_own - D_own/N)/N - S(u-) P(u-) D_own/N. Of a cluster these are sums. At an
 * event time all clusters move by the same rule, P by -a R and X by -r P - q R (R: weight at risk), so that the sums
 * of their squares and products move without a look at any cluster; only clusters whose rows enter or leave are looked at.
 */
export function sumSquaredInfluence(
  rows: InfluenceRows,
  counts: WeightCounts,
  ownCode: number,
): InfluenceSquares {
  const placeCount = counts.atRisk.length;
  const squares = { logSurvival: new Float64Array(placeCount), incidence: new Float64Array(placeCount) };
  const leaving = sortByPlace(rows.exit, placeCount);
  const entering = sortByPlace(rows.entry, placeCount);
  const path = pathOf(counts);
  const clusters = new Clusters(rows.clusterCount, path);
  for (let i = 0; i < rows.exit.length; i += 1)
    if (rows.entry[i] < 0) clusters.change(rows.cluster[i], 0, rows.weight[i], 0, 0);
  for (let j = 0; j < placeCount; j += 1) {
    clusters.step(j);
    const { survival } = path;
    const n = counts.atRisk[j];
    const left = n - counts.events[j];
    for (let k = leaving.from[j]; k < leaving.from[j + 1]; k += 1) {
      const i = leaving.rows[k];
      const w = rows.weight[i];
      if (w === 0) continue;
      const ends = rows.code[i] !== 0;
      const p = ends && !counts.allFail[j] ? w / left : 0;
      const x = rows.code[i] === ownCode ? (survival[j] * w) / n : 0;
      clusters.change(rows.cluster[i], j + 1, -w, p, x);
    }
    for (let k = entering.from[j]; k < entering.from[j + 1]; k += 1) {
      const i = entering.rows[k];
      clusters.change(rows.cluster[i], j + 1, rows.weight[i], 0, 0);
    }
    squares.logSurvival[j] = clusters.sumOfP();
    squares.incidence[j] = clusters.sumOfX();
  }
  return squares;
}

/** What happens at each place (rates a, r, q; S before it), and their sums before each place. */
type Path = {
  readonly survival: Float64Array;
  readonly a: Float64Array;
  readonly r: Float64Array;
  readonly q: Float64Array;
  readonly sumA: Float64Array;
  readonly sumR: Float64Array;
  readonly sumQ: Float64Array;
  /** Of r times the sum of a before. */
  readonly sumRa: Float64Array;
};

function pathOf({ atRisk, events, own, allFail }: WeightCounts): Path {
  const length = atRisk.length;
  const column = (): Float64Array => new Float64Array(length + 1);
  const path = {
    ...{ survival: column(), a: column(), r: column(), q: column() },
    ...{ sumA: column(), sumR: column(), sumQ: column(), sumRa: column() },
  };
  let s = 1;
  for (let j = 0; j < length; j += 1) {
    path.survival[j] = s;
    if (events[j] > 0 && s > 0) {
      const n = atRisk[j];
      path.r[j] = (s * own[j]) / n;
      path.q[j] = path.r[j] / n;
      path.a[j] = allFail[j] ? 0 : events[j] / n / (n - events[j]);
      s *= allFail[j] ? 0 : (n - events[j]) / n;
    }
    path.sumA[j + 1] = path.sumA[j] + path.a[j];
    path.sumR[j + 1] = path.sumR[j] + path.r[j];
    path.sumQ[j + 1] = path.sumQ[j] + path.q[j];
    path.sumRa[j + 1] = path.sumRa[j] + path.r[j] * path.sumA[j];
  }
  return path;
}

/** What is left of a sum of squares below this share of all that was ever added is rounding. */
const ROUNDING = 1e-13;

/** X, P and R of every cluster as they stood when last looked at, and the sums of their squares and products now. */
class Clusters {
  readonly #path: Path;
  readonly #x: Float64Array;
  readonly #p: Float64Array;
  readonly #r: Float64Array;
  readonly #seen: Int32Array;
  #xx = 0;
  #pp = 0;
  #xxParts = 0;
  #ppParts = 0;
  #xp = 0;
  #xr = 0;
  #pr = 0;
  #rr = 0;

  constructor(count: number, path: Path) {
    this.#path = path;
    this.#x = new Float64Array(count);
    this.#p = new Float64Array(count);
    this.#r = new Float64Array(count);
    this.#seen = new Int32Array(count);
  }

  sumOfX(): number {
    return this.#xx > ROUNDING * this.#xxParts ? this.#xx : 0;
  }

  sumOfP(): number {
    return this.#pp > ROUNDING * this.#ppParts ? this.#pp : 0;
  }

  /** The common move at place j. */
  step(j: number): void {
    const a = this.#path.a[j];
    const r = this.#path.r[j];
    const q = this.#path.q[j];
    if (a === 0 && r === 0) return;
    const [xp, xr, pp, pr, rr] = [this.#xp, this.#xr, this.#pp, this.#pr, this.#rr];
    this.#xx += r * (r * pp - 2 * xp) + q * (q * rr - 2 * xr) + 2 * r * q * pr;
    this.#xp = xp - a * xr - r * pp + (r * a - q) * pr + q * a * rr;
    this.#xr = xr - r * pr - q * rr;
    this.#pp = pp + a * (a * rr - 2 * pr);
    this.#pr = pr - a * rr;
  }

  /** Cluster c after the moves of the places before `place`: weight at risk changes, and P and X of an event. */
  change(c: number, place: number, weight: number, p: number, x: number): void {
    this.#advance(c, place);
    this.#add(c, -1);
    this.#x[c] += x;
    this.#p[c] += p;
    this.#r[c] += weight;
    this.#add(c, 1);
    this.#xxParts += this.#x[c] * this.#x[c];
    this.#ppParts += this.#p[c] * this.#p[c];
  }

  #advance(c: number, place: number): void {
    const { sumA, sumR, sumQ, sumRa } = this.#path;
    const from = this.#seen[c];
    const [p, r] = [this.#p[c], this.#r[c]];
    const rise = sumR[place] - sumR[from];
    this.#x[c] +=
      -p * rise + r * (sumRa[place] - sumRa[from] - sumA[from] * rise - (sumQ[place] - sumQ[from]));
    this.#p[c] -= r * (sumA[place] - sumA[from]);
    this.#seen[c] = place;
  }

  #add(c: number, sign: number): void {
    const [x, p, r] = [this.#x[c], this.#p[c], this.#r[c]];
    this.#xx += sign * x * x;
    this.#pp += sign * p * p;
    this.#xp += sign * x * p;
    this.#xr += sign * x * r;
    this.#pr += sign * p * r;
    this.#rr += sign * r * r;
  }
}

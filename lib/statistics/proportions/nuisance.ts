/** A set of tables: for each number of events in the first arm, the runs [from, to] of events in the second. */
export type Region = {
  readonly firstSize: number;
  readonly secondSize: number;
  readonly runs: readonly (readonly (readonly [from: number, to: number])[])[];
};

/** The tables, of all with these arm sizes, that a rule takes in. */
export function regionWhere(
  firstSize: number,
  secondSize: number,
  holds: (x: number, y: number) => boolean,
): Region {
  const runs = Array.from({ length: firstSize + 1 }, (_, x) => {
    const found: [number, number][] = [];
    for (let y = 0; y <= secondSize; y += 1) {
      if (!holds(x, y)) continue;
      const last = found.at(-1);
      if (last && last[1] === y - 1) last[1] = y;
      else found.push([y, y]);
    }
    return found;
  });
  return { firstSize, secondSize, runs };
}

/** Steps across one standard deviation of the finest detail that the probability can have in the angle. */
const STEPS_PER_DEVIATION = 16;

/**
 * The largest probability of a region over the common, unknown proportion pi in 0 to 1.
 *
 * In the angle asin(root pi) every binomial probability is a hump of standard deviation about 1/(2 root n), wherever it
 * lies: an even grid, fine against that of both arms together, cannot step over a maximum. Every local maximum of the
 * grid is then refined by golden section.
 */
export function largestProbability(region: Region): number {
  const right = Math.PI / 2;
  const steps = Math.ceil(right * 2 * Math.sqrt(region.firstSize + region.secondSize) * STEPS_PER_DEVIATION);
  const at = (angle: number): number => probabilityAt(region, Math.sin(angle) ** 2);
  const grid = Float64Array.from({ length: steps + 1 }, (_, i) => at((i / steps) * right));
  const highest = grid.reduce((most, value) => Math.max(most, value), 0);
  let best = highest;
  for (let i = 0; i <= steps; i += 1) {
    const before = grid[Math.max(0, i - 1)];
    const after = grid[Math.min(steps, i + 1)];
    if (grid[i] < before || grid[i] < after || grid[i] < 0.9 * highest) continue;
    best = Math.max(
      best,
      goldenMaximum(at, (Math.max(0, i - 1) / steps) * right, (Math.min(steps, i + 1) / steps) * right),
    );
  }
  return Math.min(1, best);
}

function goldenMaximum(at: (x: number) => number, from: number, to: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = from;
  let high = to;
  let left = high - golden * (high - low);
  let right = low + golden * (high - low);
  let atLeft = at(left);
  let atRight = at(right);
  let best = Math.max(atLeft, atRight);
  // The value is flat at its maximum: half of the digits of the place give all digits of the height.
  while (high - low > 1e-9) {
    if (atLeft < atRight) {
      low = left;
      left = right;
      atLeft = atRight;
      right = low + golden * (high - low);
      atRight = at(right);
    } else {
      high = right;
      right = left;
      atRight = atLeft;
      left = high - golden * (high - low);
      atLeft = at(left);
    }
    best = Math.max(best, atLeft, atRight);
  }
  return best;
}

function probabilityAt({ firstSize, secondSize, runs }: Region, pi: number): number {
  const first = binomialProbabilities(firstSize, pi);
  const second = binomialProbabilities(secondSize, pi);
  const below = new Float64Array(secondSize + 2);
  const above = new Float64Array(secondSize + 2);
  for (let y = 0; y <= secondSize; y += 1) below[y + 1] = below[y] + second[y];
  for (let y = secondSize; y >= 0; y -= 1) above[y] = above[y + 1] + second[y];
  let total = 0;
  for (let x = 0; x <= firstSize; x += 1) {
    if (first[x] === 0) continue;
    let inside = 0;
    for (const [from, to] of runs[x]) {
      // Differences of the smaller sums lose the fewest digits; runs at an end lose none.
      inside += below[to + 1] <= above[from] ? below[to + 1] - below[from] : above[from] - above[to + 1];
    }
    total += first[x] * inside;
  }
  return total;
}

/** All binomial probabilities, from the mode outward by exact ratios, made to add to 1. */
function binomialProbabilities(n: number, pi: number): Float64Array {
  const weight = new Float64Array(n + 1);
  const mode = Math.min(n, Math.floor((n + 1) * pi));
  const odds = pi / (1 - pi);
  weight[mode] = 1;
  if (pi < 1) for (let x = mode; x < n; x += 1) weight[x + 1] = weight[x] * ((n - x) / (x + 1)) * odds;
  if (pi > 0) for (let x = mode; x > 0; x -= 1) weight[x - 1] = (weight[x] * (x / (n - x + 1))) / odds;
  let total = 0;
  for (const value of weight) total += value;
  return weight.map((value) => value / total);
}

import type { LogisticDesign } from './logistic-design';

/** Rows may lie this far, in units of the furthest row, on the wrong side: rounding. */
const NEARNESS = 1e-7;

/**
 * Whether a direction in the space of the coefficients (intercept first) separates the outcomes: no row with the
 * outcome lies below zero along it, none without lies above, and some row lies off zero. The likelihood then rises for
 * ever along it (Albert & Anderson, Biometrika 1984;71:1).
 */
export function separates(design: LogisticDesign, direction: Float64Array): boolean {
  const place = new Float64Array(design.rows);
  placeRows(place, design, direction);
  let least = 0;
  let most = 0;
  for (const value of place) {
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return most > 0 && most < Number.POSITIVE_INFINITY && least >= -NEARNESS * most;
}

/** How far each row lies on the right side along a direction; rows of weight 0 lie nowhere. */
function placeRows(place: Float64Array, design: LogisticDesign, direction: Float64Array): void {
  const { rows, z, side, weights } = design;
  place.fill(direction[0]);
  for (let j = 0; j < z.length; j += 1) {
    const column = z[j];
    const slope = direction[j + 1];
    for (let i = 0; i < rows; i += 1) place[i] += slope * column[i];
  }
  for (let i = 0; i < rows; i += 1) {
    place[i] = weights && weights[i] === 0 ? 0 : side[i] * place[i];
  }
}

export type WeightedSums = {
  /** Sum of residual times column, the column of ones first. */
  readonly gradient: Float64Array;
  /** Sum of spread times the products of two columns, by rows. */
  readonly information: Float64Array;
};

/** Rows taken through all columns before the next ones: few enough to stay in the fastest memory. */
const BLOCK = 512;

/** The sums that a step of weighted least squares needs; a column of ones goes before the columns given. */
export function sumWeighted(
  residual: Float64Array,
  spread: Float64Array,
  columns: readonly Float64Array[],
): WeightedSums {
  const rows = residual.length;
  const size = columns.length + 1;
  const gradient = new Float64Array(size);
  const information = new Float64Array(size * size);
  const ones = new Float64Array(BLOCK).fill(1);
  const product = new Float64Array(BLOCK);
  const pair = new Float64Array(2);
  for (let from = 0; from < rows; from += BLOCK) {
    const count = Math.min(BLOCK, rows - from);
    for (let j = 0; j < size; j += 1) {
      const column = j === 0 ? ones : columns[j - 1];
      const shift = j === 0 ? 0 : from;
      sumWithOnes(pair, residual, spread, column, from, shift, count, product);
      gradient[j] += pair[0];
      information[j * size] += pair[1];
      for (let k = 1; k <= j; k += 2) {
        // The second of the last pair may lie past the diagonal; it is computed and left.
        multiplyPair(pair, product, columns[k - 1], columns[Math.min(k, j - 1)], from, count);
        information[j * size + k] += pair[0];
        if (k < j) information[j * size + k + 1] += pair[1];
      }
    }
  }
  for (let j = 0; j < size; j += 1)
    for (let k = 0; k < j; k += 1) information[k * size + j] = information[j * size + k];
  return { gradient, information };
}

/** Leaves spread times column in `product`. Sums kept apart for even and odd rows do not wait for each other. */
function sumWithOnes(
  pair: Float64Array,
  residual: Float64Array,
  spread: Float64Array,
  column: Float64Array,
  from: number,
  shift: number,
  count: number,
  product: Float64Array,
): void {
  let slope = 0;
  let otherSlope = 0;
  let total = 0;
  let otherTotal = 0;
  const even = count & ~1;
  for (let i = 0; i < even; i += 2) {
    const value = column[shift + i];
    const other = column[shift + i + 1];
    const first = spread[from + i] * value;
    const second = spread[from + i + 1] * other;
    product[i] = first;
    product[i + 1] = second;
    slope += residual[from + i] * value;
    otherSlope += residual[from + i + 1] * other;
    total += first;
    otherTotal += second;
  }
  if (even < count) {
    const value = column[shift + even];
    product[even] = spread[from + even] * value;
    slope += residual[from + even] * value;
    total += product[even];
  }
  pair[0] = slope + otherSlope;
  pair[1] = total + otherTotal;
}

/** The sums of products with two columns at once, which takes little longer than with one. */
function multiplyPair(
  pair: Float64Array,
  product: Float64Array,
  first: Float64Array,
  second: Float64Array,
  from: number,
  count: number,
): void {
  let left = 0;
  let otherLeft = 0;
  let right = 0;
  let otherRight = 0;
  const even = count & ~1;
  for (let i = 0; i < even; i += 2) {
    const value = product[i];
    const other = product[i + 1];
    left += value * first[from + i];
    otherLeft += other * first[from + i + 1];
    right += value * second[from + i];
    otherRight += other * second[from + i + 1];
  }
  if (even < count) {
    left += product[even] * first[from + even];
    right += product[even] * second[from + even];
  }
  pair[0] = left + otherLeft;
  pair[1] = right + otherRight;
}

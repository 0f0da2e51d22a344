// The loops where a fit spends its time: four rows are added at once, to read and write the sums a quarter as often.

/** Adds risk, and risk times covariates, of rows `from` to before `to` to the sums of one cell. */
export function addWeightedRows(
  sums: Float64Array,
  cell: number,
  size: number,
  risk: Float64Array,
  z: Float64Array,
  from: number,
  to: number,
): void {
  let i = from;
  for (; i + 3 < to; i += 4) {
    const a = i * size;
    const b = a + size;
    const c = b + size;
    const d = c + size;
    const ra = risk[i];
    const rb = risk[i + 1];
    const rc = risk[i + 2];
    const rd = risk[i + 3];
    sums[cell] += ra + rb + (rc + rd);
    for (let j = 0; j < size; j += 1)
      sums[cell + 1 + j] += ra * z[a + j] + rb * z[b + j] + (rc * z[c + j] + rd * z[d + j]);
  }
  for (; i < to; i += 1) {
    sums[cell] += risk[i];
    for (let j = 0; j < size; j += 1) sums[cell + 1 + j] += risk[i] * z[i * size + j];
  }
}

/** Adds factor times z z' of every row to the sums, by rows and up to the diagonal. */
export function addSquares(sums: Float64Array, factor: Float64Array, z: Float64Array, size: number): void {
  let i = 0;
  for (; i + 3 < factor.length; i += 4) {
    const a = i * size;
    const b = a + size;
    const c = b + size;
    const d = c + size;
    for (let j = 0, cell = 0; j < size; j += 1, cell += size) {
      const pa = factor[i] * z[a + j];
      const pb = factor[i + 1] * z[b + j];
      const pc = factor[i + 2] * z[c + j];
      const pd = factor[i + 3] * z[d + j];
      for (let k = 0; k <= j; k += 1)
        sums[cell + k] += pa * z[a + k] + pb * z[b + k] + (pc * z[c + k] + pd * z[d + k]);
    }
  }
  for (; i < factor.length; i += 1) {
    for (let j = 0, cell = 0, at = i * size; j < size; j += 1, cell += size)
      for (let k = 0; k <= j; k += 1) sums[cell + k] += factor[i] * z[at + j] * z[at + k];
  }
}

/** Adds beta' z to the value of every row. */
export function addLinearPredictors(values: Float64Array, beta: Float64Array, z: Float64Array): void {
  const size = beta.length;
  let i = 0;
  for (; i + 3 < values.length; i += 4) {
    const a = i * size;
    const b = a + size;
    const c = b + size;
    const d = c + size;
    let ea = values[i];
    let eb = values[i + 1];
    let ec = values[i + 2];
    let ed = values[i + 3];
    for (let j = 0; j < size; j += 1) {
      const slope = beta[j];
      ea += slope * z[a + j];
      eb += slope * z[b + j];
      ec += slope * z[c + j];
      ed += slope * z[d + j];
    }
    values[i] = ea;
    values[i + 1] = eb;
    values[i + 2] = ec;
    values[i + 3] = ed;
  }
  for (; i < values.length; i += 1) for (let j = 0; j < size; j += 1) values[i] += beta[j] * z[i * size + j];
}

/** Joins, in place, all groups with somebody at risk: component[g] is the smallest code known to be joined to g. */
export function componentsAtRisk(component: Int32Array, atRisk: Int32Array): void {
  let root = -1;
  for (let g = 0; g < atRisk.length; g += 1) {
    if (atRisk[g] === 0) continue;
    if (root < 0) root = component[g];
    else if (component[g] !== root) root = join(component, component[g], root);
  }
}

function join(component: Int32Array, a: number, b: number): number {
  const smaller = Math.min(a, b);
  const larger = Math.max(a, b);
  for (let g = 0; g < component.length; g += 1) if (component[g] === larger) component[g] = smaller;
  return smaller;
}

/**
 * U' V^- U and the rank of V, for a covariance V (groups x groups, by rows) whose null space holds exactly the vectors
 * that are constant within each component: in each, one group is left out and the rest solved. The rank is therefore
 * counted, not guessed from small pivots.
 */
export function quadraticForm(
  score: Float64Array,
  covariance: Float64Array,
  component: Int32Array,
): { value: number; rank: number } {
  let value = 0;
  let rank = 0;
  for (let root = 0; root < component.length; root += 1) {
    const members = Array.from(component.keys()).filter((g) => component[g] === root && g !== root);
    if (members.length === 0) continue;
    value += squaredLength(members, score, covariance);
    rank += members.length;
  }
  return { value, rank };
}

/** u' V^-1 u over the members: Cholesky V = L L', then the squared length of L^-1 u. */
function squaredLength(members: readonly number[], score: Float64Array, covariance: Float64Array): number {
  const size = members.length;
  const factor = new Float64Array(size * size);
  const solved = new Float64Array(size);
  let length = 0;
  for (let i = 0; i < size; i += 1) {
    let rest = score[members[i]];
    for (let j = 0; j <= i; j += 1) {
      let sum = covariance[members[i] * score.length + members[j]];
      for (let k = 0; k < j; k += 1) sum -= factor[i * size + k] * factor[j * size + k];
      if (j < i) {
        factor[i * size + j] = sum / factor[j * size + j];
        rest -= factor[i * size + j] * solved[j];
      } else {
        factor[i * size + i] = Math.sqrt(sum);
      }
    }
    solved[i] = rest / factor[i * size + i];
    length += solved[i] * solved[i];
  }
  return length;
}

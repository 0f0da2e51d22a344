import { solveSymmetric } from './cholesky';
import type { CoxTies } from './cox-cells';
import { type CoxDesign, selectColumns } from './cox-design';
import { type CoxNull, type CoxSolution, maximiseCox } from './cox-newton';
import { limitDesign, type Recession } from './cox-recession';

type Converged = Extract<CoxSolution, { kind: 'converged' }>;

/** What is left of a fit when some coefficients have gone to infinity. Columns are those of the whole model. */
export type CoxLimit = {
  readonly logLikelihood: number;
  readonly infinite: ReadonlyMap<number, 1 | -1>;
  /** The fit of the rest among those still at risk in the limit; undefined when nothing is left to fit. */
  readonly rest: { readonly solution: Converged; readonly columns: readonly number[] } | undefined;
  /** Columns of the rest whose coefficient the limit leaves open. */
  readonly open: ReadonlySet<number>;
};

/**
 * Follows a recession to its limit, and any further ones met there. In the limit only those furthest along the
 * direction remain at risk at each event; the likelihood of what remains is the supremum of the whole, and finite
 * coefficients are estimated from it. Undefined when a fit on the way does not converge.
 */
export function followRecession(
  design: CoxDesign,
  recession: Recession,
  ties: CoxTies,
  columns: readonly number[],
): CoxLimit | undefined {
  const infinite = new Map<number, 1 | -1>();
  const open = new Set<number>();
  let at = { design, recession, columns };
  for (;;) {
    const { direction } = at.recession;
    for (const [j, value] of direction.entries())
      if (value !== 0 && !infinite.has(at.columns[j])) infinite.set(at.columns[j], value > 0 ? 1 : -1);
    const limit = limitDesign(at.design, at.recession);
    // Infinite columns come last, so that what they share with finite ones is theirs to lose.
    const order = Array.from(direction.keys()).sort(
      (a, b) => Number(infinite.has(at.columns[a])) - Number(infinite.has(at.columns[b])) || a - b,
    );
    const ordered = order.map((j) => at.columns[j]);
    const solution = maximiseCox(selectColumns(limit, order), ties);
    for (const j of tangledColumns(solution.null)) open.add(ordered[j]);
    const kept = solution.kept.map((j) => ordered[j]);
    if (solution.kind === 'noConvergence') return undefined;
    if (solution.kind === 'recession') {
      at = { design: solution.design, recession: solution.recession, columns: kept };
      continue;
    }
    const basis = { infinite, open };
    return solution.kind === 'converged'
      ? { ...basis, logLikelihood: solution.logLikelihood, rest: { solution, columns: kept } }
      : { ...basis, logLikelihood: solution.null.logLikelihood, rest: undefined };
  }
}

const NO_PART = 1e-6;

/** Columns that a dropped one is a combination of: along that combination the likelihood is flat. */
function tangledColumns({ information, factor }: CoxNull): number[] {
  const { size, dropped } = factor;
  const found = new Set<number>();
  for (let k = 0; k < size; k += 1) {
    if (!dropped[k]) continue;
    found.add(k);
    const parts = solveSymmetric(factor, information.subarray(k * size, (k + 1) * size));
    for (const [j, part] of parts.entries()) if (Math.abs(part) > NO_PART) found.add(j);
  }
  return [...found];
}

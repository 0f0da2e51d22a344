import type { EventTable } from './event-table';

/** One time at which events happen in one stratum: what stood just before it, and what happens. One value per group. */
export type GrayStep = {
  readonly atRisk: Int32Array;
  /** Free of every cause just before and just after, by Kaplan-Meier. */
  readonly free: Float64Array;
  readonly freeAfter: Float64Array;
  /** Incidence of the cause just before, by Aalen-Johansen. */
  readonly incidence: Float64Array;
  /** At risk divided by free: about how many would be at risk if no cause had acted. */
  readonly enlarged: Float64Array;
  readonly own: Int32Array;
  readonly others: Int32Array;
  enlargedTotal: number;
  ownTotal: number;
  /** Incidence of the cause in all groups together, under the hypothesis, just before and just after. */
  pooled: number;
  pooledAfter: number;
};

/** Visits the event times of a table in order. The step is one object, rewritten for each; visitors keep no part of it. */
export function walkGraySteps(table: EventTable, cause: number, visit: (step: GrayStep) => void): void {
  const { times, groupCount, codeCount, exits } = table;
  const step = firstStep(table);
  const { atRisk, free, freeAfter, incidence, own, others } = step;
  const leaving = new Int32Array(groupCount);
  for (let j = 0; j < times.length; j += 1) {
    let events = 0;
    for (let g = 0; g < groupCount; g += 1) {
      const cell = (j * groupCount + g) * codeCount;
      own[g] = exits[cell + cause];
      others[g] = -own[g];
      for (let code = 1; code < codeCount; code += 1) others[g] += exits[cell + code];
      leaving[g] = exits[cell] + own[g] + others[g];
      events += own[g] + others[g];
    }
    if (events > 0) {
      completeStep(step);
      visit(step);
      for (let g = 0; g < groupCount; g += 1) {
        if (atRisk[g] > 0) incidence[g] += free[g] * (own[g] / atRisk[g]);
        free[g] = freeAfter[g];
      }
      step.pooled = step.pooledAfter;
    }
    for (let g = 0; g < groupCount; g += 1) atRisk[g] -= leaving[g];
  }
}

/** How many cases each group has: all of them are at risk from the start. */
export function casesOfGroups({ times, groupCount, codeCount, exits }: EventTable): Int32Array {
  const cases = new Int32Array(groupCount);
  for (let cell = 0; cell < times.length * groupCount * codeCount; cell += 1)
    cases[Math.floor(cell / codeCount) % groupCount] += exits[cell];
  return cases;
}

function firstStep(table: EventTable): GrayStep {
  const { groupCount } = table;
  return {
    atRisk: casesOfGroups(table),
    free: new Float64Array(groupCount).fill(1),
    freeAfter: new Float64Array(groupCount).fill(1),
    incidence: new Float64Array(groupCount),
    enlarged: new Float64Array(groupCount),
    own: new Int32Array(groupCount),
    others: new Int32Array(groupCount),
    enlargedTotal: 0,
    ownTotal: 0,
    pooled: 0,
    pooledAfter: 0,
  };
}

function completeStep(step: GrayStep): void {
  const { atRisk, free, freeAfter, enlarged, own, others } = step;
  step.enlargedTotal = 0;
  step.ownTotal = 0;
  for (let g = 0; g < atRisk.length; g += 1) {
    const n = atRisk[g];
    // Nobody at risk: the group plays no part, whatever its curve stands at.
    enlarged[g] = n > 0 ? n / free[g] : 0;
    freeAfter[g] = n > 0 ? free[g] * ((n - own[g] - others[g]) / n) : free[g];
    step.enlargedTotal += enlarged[g];
    step.ownTotal += own[g];
  }
  step.pooledAfter = step.pooled + step.ownTotal / step.enlargedTotal;
}

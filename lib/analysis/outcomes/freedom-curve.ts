import { type DerivedOutcomes, STATUS } from '../../registry/time-to-event';
import {
  type CumulativeIncidence,
  estimateCumulativeIncidence,
  estimateKaplanMeier,
  type ReadableCurve,
} from '../../statistics/index';

/** Kaplan-Meier, or one minus the Aalen-Johansen incidence when death competes. */
type FreedomMethod = 'kaplan-meier' | 'aalen-johansen';

/** Some analysed cases and their curve. */
export interface FreedomCurve {
  readonly method: FreedomMethod;
  /** Positions in the outcomes' columns, ascending. */
  readonly positions: Int32Array;
  /**
   * Kaplan-Meier: survival is freedom. Aalen-Johansen: survival is 1 - F(t), the share without the event by t, deaths
   * before it staying in that share; limits are those of F turned over; `censored` holds whoever left without the event.
   */
  readonly curve: ReadableCurve;
  /** Deaths that compete; 0 with Kaplan-Meier. */
  readonly competingTotal: number;
  /** The incidence of death before the event, by time; only with Aalen-Johansen. */
  readonly incidence: CumulativeIncidence | undefined;
}

/** The curve of some analysed cases under the method that the death rule asks for. */
export function estimateFreedom(outcomes: DerivedOutcomes, positions: Int32Array): FreedomCurve {
  const timeDays = gather(outcomes.timeDays, positions);
  const status = gather(outcomes.status, positions);
  if (outcomes.rules.deathRule === 'competing') {
    const incidence = estimateCumulativeIncidence({ timeDays, status }, { causeCount: 2 });
    const competingTotal = incidence.causes[STATUS.competingDeath - 1].eventTotal;
    return { method: 'aalen-johansen', positions, curve: turnOver(incidence), competingTotal, incidence };
  }
  const data = { timeDays, event: status };
  // Observed from day 0 on means day 0 included: no delayed entry then.
  const curve = estimateKaplanMeier(
    outcomes.entryDay === 0 ? data : { ...data, entryDays: gather(outcomes.entryDays, positions) },
  );
  return { method: 'kaplan-meier', positions, curve, competingTotal: 0, incidence: undefined };
}

function turnOver(estimate: CumulativeIncidence): ReadableCurve {
  const event = estimate.causes[STATUS.event - 1];
  const death = estimate.causes[STATUS.competingDeath - 1];
  return {
    n: estimate.n,
    eventTotal: event.eventTotal,
    timeDays: estimate.timeDays,
    atRisk: estimate.atRisk,
    events: event.events,
    censored: estimate.censored.map((count, i) => count + death.events[i]),
    survival: event.incidence.map((value) => 1 - value),
    standardError: event.standardError,
    lower: event.upper.map((value) => 1 - value),
    upper: event.lower.map((value) => 1 - value),
    intervalFrom: event.intervalFrom,
    intervalTo: event.intervalTo,
    limits: estimate.limits,
    confidenceLevel: estimate.confidenceLevel,
    entryDays: new Float64Array(0),
    entered: new Int32Array(0),
  };
}

function gather(column: Int32Array | Uint8Array, positions: Int32Array): Int32Array {
  return positions.map((position) => column[position]);
}

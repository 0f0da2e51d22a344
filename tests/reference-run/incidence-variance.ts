import type { CumulativeIncidence } from '@/lib/statistics';

/**
 * The variance of F_j(t) as cmprsk::cuminc prints it, slightly larger than the library's: each event
 * at u moves F_j(t) by its own jump and by what it takes away from later ones, and ties count as drawn without return. With
 * S the event-free curve it is the sum over u <= t of S(u-)^2/n^2 times d_j c_j (1 - (F_j(t) - F_j(u))/S(u))^2 for the
 * cause itself and d_k c_k ((F_j(t) - F_j(u))/S(u))^2 for all others together, c = 1 - (d - 1)/(n - 1). From memory of
 * R. Gray's description; proven by the cases alone.
 */
export function incidenceVariance(estimate: CumulativeIncidence, cause: number, time: number): number {
  const { timeDays, atRisk, eventFree, causes } = estimate;
  const { incidence, events } = causes[cause - 1];
  const last = timeDays.findLastIndex((each) => each <= time);
  let sum = 0;
  for (let i = 0; i <= last; i += 1) {
    const before = i === 0 ? 1 : eventFree[i - 1];
    const others = causes.reduce((total, each) => total + each.events[i], 0) - events[i];
    const lost = eventFree[i] > 0 ? (incidence[last] - incidence[i]) / eventFree[i] : 0;
    const scale = (before / atRisk[i]) ** 2;
    sum += scale * spread(events[i], atRisk[i]) * (1 - lost) ** 2;
    if (eventFree[i] > 0) sum += scale * spread(others, atRisk[i]) * lost ** 2;
  }
  return sum;
}

function spread(events: number, atRisk: number): number {
  return events > 1 ? events * (1 - (events - 1) / (atRisk - 1)) : events;
}

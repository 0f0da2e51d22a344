/** A day that may carry a tick, its words, and how much it is wanted (lower first). */
export interface TickCandidate {
  readonly day: number;
  readonly text: string;
  readonly rank: number;
}

const DAYS_PER_MONTH = 30.4375;

/** The day that ends so many months: 12 months end on day 365. */
export function dayOfMonth(months: number): number {
  return Math.floor(months * DAYS_PER_MONTH);
}

/**
 * Days worth a tick up to `lastDay`: where the risk set opens, a year, then the last whole year, the years between, and
 * months in between. Which of them find room is decided by `chooseTicks`.
 */
export function tickCandidates(entryDay: number, lastDay: number): TickCandidate[] {
  const candidates: TickCandidate[] = [
    { day: entryDay, text: entryDay === 0 ? '0' : `day ${entryDay}`, rank: 0 },
  ];
  const add = (months: number, rank: number) => {
    const day = dayOfMonth(months);
    const text = months % 12 === 0 ? `${months / 12} y` : `${months} mo`;
    if (day > entryDay && day <= lastDay) candidates.push({ day, text, rank });
  };
  const years = Math.floor(lastDay / 365.25 + 0.002);
  add(12, 1);
  if (years > 1) add(12 * years, 2);
  for (let year = 2; year < years; year += 1) add(12 * year, 2 + year);
  const fine = 3 + Math.max(years, 1);
  for (let months = 6; months <= 24; months += 12) add(months, fine + months);
  for (let months = 3; months <= 9; months += 6) add(months, fine + 24 + months);
  return candidates;
}

/** The extent of what stands at a tick. */
export interface TickSpan {
  readonly left: number;
  readonly right: number;
}

/** Takes candidates by rank as long as they keep `gap` from those taken; answers their indexes in order of days. */
export function chooseTicks(
  candidates: readonly TickCandidate[],
  spanOf: (index: number) => TickSpan,
  gap: number,
): number[] {
  const chosen: number[] = [];
  const order = candidates.map((_, i) => i).sort((a, b) => candidates[a].rank - candidates[b].rank);
  for (const i of order) {
    const span = spanOf(i);
    const free = chosen.every((other) => {
      const taken = spanOf(other);
      return span.left >= taken.right + gap || span.right <= taken.left - gap;
    });
    if (free) chosen.push(i);
  }
  return chosen.sort((a, b) => candidates[a].day - candidates[b].day);
}

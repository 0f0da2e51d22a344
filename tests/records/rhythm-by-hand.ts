/**
 * What the rhythm file says, computed by plain loops that share nothing with the product: no decoder, no packed evidence,
 * no statistics library. One array per patient, events and censorings counted one by one.
 */
export interface HandReading {
  readonly patient: string;
  readonly day: number;
  readonly isAf: boolean;
  readonly group: string;
}

export interface HandCase {
  readonly group: string;
  readonly day: number;
  readonly isEvent: boolean;
}

/** Lines of id, months, rhythm, group; the months become days by rounding to the nearest. */
export function readHandReadings(csv: string): HandReading[] {
  const [, ...lines] = csv.trim().split('\n');
  return lines.map((line) => {
    const cells = line.replaceAll('"', '').split(',');
    const days = Number(cells[1]) * 30.4375;
    const below = Math.floor(days);
    return {
      patient: cells[0] ?? '',
      day: days - below >= 0.5 ? below + 1 : below,
      isAf: cells[2] === '1',
      group: cells[3] ?? '',
    };
  });
}

/** First AF on an unblanked day, else the last unblanked reading; patients without one are left out. */
export function handCases(
  readings: readonly HandReading[],
  blankingDays: number,
  isInclusive: boolean,
): HandCase[] {
  const cases: HandCase[] = [];
  for (const patient of new Set(readings.map((reading) => reading.patient))) {
    const seen = readings.filter(
      (reading) =>
        reading.patient === patient &&
        (isInclusive ? reading.day > blankingDays : reading.day >= blankingDays),
    );
    const [any] = seen;
    if (!any) continue;
    const afDays = seen.filter((reading) => reading.isAf).map((reading) => reading.day);
    const days = seen.map((reading) => reading.day);
    const isEvent = afDays.length > 0;
    cases.push({ group: any.group, isEvent, day: isEvent ? Math.min(...afDays) : Math.max(...days) });
  }
  return cases;
}

export interface HandPoint {
  readonly atRisk: number;
  readonly survival: number;
  readonly lower: number;
  readonly upper: number;
}

/** Kaplan-Meier at a day as a product of fractions, with Greenwood's sum and log-log limits. */
export function handPoint(cases: readonly HandCase[], day: number): HandPoint {
  let survival = 1;
  let greenwood = 0;
  for (const eventDay of eventDays(cases)) {
    if (eventDay > day) break;
    const atRisk = cases.filter((one) => one.day >= eventDay).length;
    const events = cases.filter((one) => one.day === eventDay && one.isEvent).length;
    survival *= (atRisk - events) / atRisk;
    greenwood += events / (atRisk * (atRisk - events));
  }
  // 97.5th percentile of the standard normal distribution, as printed in any table.
  const spread = (1.959963984540054 * Math.sqrt(greenwood)) / Math.log(survival);
  return {
    atRisk: cases.filter((one) => one.day >= day).length,
    survival,
    lower: survival ** Math.exp(-spread),
    upper: survival ** Math.exp(spread),
  };
}

/**
 * First day on which survival is below one half; where it is one half exactly, the middle between that day and the next
 * event. Undefined when neither happens. A hair is allowed because products of fractions are not exact.
 */
export function handMedian(cases: readonly HandCase[]): number | undefined {
  const days = eventDays(cases);
  const at = days.findIndex((day) => handPoint(cases, day).survival < 0.5 + 1e-12);
  const day = days[at];
  if (day === undefined) return undefined;
  const isHalf = Math.abs(handPoint(cases, day).survival - 0.5) < 1e-12;
  return isHalf ? (day + (days[at + 1] ?? day)) / 2 : day;
}

/** The log-rank chi-square of two groups: observed minus expected in the first, squared, over its variance. */
export function handLogRank(cases: readonly HandCase[], group: string): number {
  let difference = 0;
  let variance = 0;
  for (const day of eventDays(cases)) {
    const present = cases.filter((one) => one.day >= day);
    const n = present.length;
    const n1 = present.filter((one) => one.group === group).length;
    const died = present.filter((one) => one.day === day && one.isEvent);
    const d = died.length;
    difference += died.filter((one) => one.group === group).length - (d * n1) / n;
    if (n > 1) variance += (d * n1 * (n - n1) * (n - d)) / (n * n * (n - 1));
  }
  return difference ** 2 / variance;
}

function eventDays(cases: readonly HandCase[]): number[] {
  return [...new Set(cases.filter((one) => one.isEvent).map((one) => one.day))].sort((a, b) => a - b);
}

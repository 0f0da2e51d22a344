/** Between a number and its percent sign. */
export const THIN_SPACE = '\u2009';

/** A count as printed: '1,479'. */
export function formatCount(count: number): string {
  return count.toLocaleString('en-GB');
}

/** A fraction of 1 as a percentage with one decimal: 0.5764 becomes '57.6 %'. */
export function formatPercent(fraction: number): string {
  return `${percentFigures(fraction)}${THIN_SPACE}%`;
}

/** An interval of fractions as printed, lower to upper: '55.0 to 60.1 %'. */
export function formatPercentInterval(lower: number, upper: number): string {
  return `${percentFigures(lower)} to ${formatPercent(upper)}`;
}

function percentFigures(fraction: number): string {
  return (100 * fraction).toFixed(1);
}

/** Days, which may be a half after a median: '412 days', '1 day', '412.5 days'. */
export function formatDays(days: number): string {
  return `${days.toLocaleString('en-GB', { maximumFractionDigits: 1 })} ${days === 1 ? 'day' : 'days'}`;
}

/** A p value as printed: 'p < 0.001', 'p = 0.004', 'p = 0.21', 'p > 0.99'. Never zero, never one. */
export function formatP(pValue: number): string {
  if (pValue < 0.001) return 'p < 0.001';
  if (pValue > 0.99) return 'p > 0.99';
  return `p = ${pValue.toFixed(pValue < 0.1 ? 3 : 2)}`;
}

/** A count with its noun: '1 case', '1,479 cases'. */
export function countOf(count: number, singular: string, plural = `${singular}s`): string {
  return `${formatCount(count)} ${count === 1 ? singular : plural}`;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** 'YYYY-MM-DD' as printed in a sentence: '24 Nov 2026'. */
export function formatDay(day: string): string {
  const [year, month, dayOfMonth] = day.split('-');
  return `${Number(dayOfMonth)} ${MONTHS[Number(month) - 1]} ${year}`;
}

/** A label inside a sentence: words lose their capital, abbreviations (AF, ECG) keep theirs. */
export function inSentence(label: string): string {
  return /^[A-Z][a-z]/.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label;
}

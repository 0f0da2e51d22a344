import { endpointWords } from './endpoint-words';
import { type EstimateWords, freedomInWords, medianInWords } from './estimates-in-words';
import { countOf } from './numbers-in-words';
import { type OutcomesAnalysis, TWELVE_MONTHS_DAYS } from './outcomes-analysis';

/** The figure in one sentence, from its numbers: for who cannot see it, and for who quotes it. */
export function summarise(analysis: OutcomesAnalysis): string {
  const { outcomes, overall, series, groups } = analysis;
  const { event, freedom } = endpointWords(outcomes.rules);
  if (outcomes.analysed === 0) return 'No case is analysed under this definition in this cohort.';
  const values = series
    .map((one) => {
      const words = quote(freedomInWords(one, TWELVE_MONTHS_DAYS, outcomes.entryDay));
      return groups.groups.length === 0 ? words : `${one.label} ${words}`;
    })
    .join(', ');
  const cases = `from ${countOf(outcomes.analysed, 'case')} with ${countOf(overall.curve.eventTotal, event)}`;
  const what = `${freedom} at 12 months`;
  if (groups.grouping !== 'none') {
    return `${what}: ${values === '' ? 'no group is recorded' : values}; ${cases}.`;
  }
  const median = medianInWords(overall);
  return `${what}: ${values}; ${cases}, median ${median.value}${inBrackets(median.interval)}.`;
}

function quote({ value, interval, brief }: EstimateWords): string {
  const said = [interval, brief].filter((part) => part !== undefined).join(', ');
  return said === '' ? value : `${value} (${said})`;
}

const inBrackets = (interval: string | undefined): string => (interval === undefined ? '' : ` (${interval})`);

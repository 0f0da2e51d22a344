import { describeFilter } from './cohort-filter';
import { drawnThrough } from './curve-paths';
import { endpointWords } from './endpoint-words';
import { FEWEST_AT_RISK } from './estimates-in-words';
import { GROUPINGS } from './grouping';
import { countOf, formatDay, inSentence } from './numbers-in-words';
import type { OutcomesAnalysis } from './outcomes-analysis';
import type { OutcomesQuestion } from './question';

/** The lines under a figure: definition and version, cohort, method, data and day. */
export function captionOf(question: OutcomesQuestion, analysis: OutcomesAnalysis, today: string): string[] {
  return [
    `Endpoint: ${describeQuestion(question)}.`,
    `Cohort: ${describeFilter(analysis.filter)}${groupingInWords(analysis)}.`,
    methodInWords(analysis),
    `Data version ${analysis.cohort.dataVersion}, drawn ${formatDay(today)}.`,
  ];
}

/** 'Consensus 2017, version 3 of 24 Nov 2026: any AF ...', or that it varies it and is stored nowhere. */
function describeQuestion({ definition, varied, version, sentence }: OutcomesQuestion): string {
  return varied
    ? `variation of ${definition.name} (${version}), not a stored version: ${sentence}`
    : `${definition.name}, ${version}: ${sentence}`;
}

function groupingInWords({ groups }: OutcomesAnalysis): string {
  if (groups.grouping === 'none') return '';
  const label = GROUPINGS.find(({ code }) => code === groups.grouping)?.label ?? groups.grouping;
  return `, by ${inSentence(label)}`;
}

function methodInWords({ outcomes, overall, series, patientsWithSeveral }: OutcomesAnalysis): string {
  const { event, deathCompetes } = endpointWords(outcomes.rules);
  const level = `${100 * overall.curve.confidenceLevel}\u2009% log-log limits`;
  const stops = series.some(({ curve }) => drawnThrough(curve) !== curve.timeDays.at(-1));
  return [
    deathCompetes
      ? `One minus the Aalen-Johansen incidence of ${event}, ${level}; death competes, and who died before a ${event} stays among those without one.`
      : `Kaplan-Meier, ${level}.`,
    outcomes.rules.deathRule === 'censoring' ? 'Deaths censor.' : '',
    outcomes.entryDay > 0 ? `The risk set opens on day ${outcomes.entryDay}.` : '',
    stops ? `Curves stop where fewer than ${FEWEST_AT_RISK} are at risk.` : '',
    patientsWithSeveral > 0
      ? `${countOf(patientsWithSeveral, 'patient')} ${patientsWithSeveral === 1 ? 'has' : 'have'} several cases here; the limits take them as independent, so they are approximate.`
      : '',
    `Under the axis: at risk on the day (censored, with a ${event}${deathCompetes ? ', died' : ''} before it).`,
  ]
    .filter((part) => part !== '')
    .join(' ');
}

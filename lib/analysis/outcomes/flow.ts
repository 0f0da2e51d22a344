import { STATUS } from '../../registry/time-to-event';
import { END_CAUSES, EXCLUSION_REASONS } from '../../registry/time-to-event-causes';
import type { CaseSet } from './case-set';
import { endpointWords } from './endpoint-words';
import { inSentence } from './numbers-in-words';
import type { OutcomesAnalysis } from './outcomes-analysis';

/** One line of who is behind the figure: a count and the set that opens it. */
export interface FlowLine {
  readonly label: string;
  readonly count: number;
  readonly set: CaseSet;
  /** 0 a main step, 1 a part of the step above it. */
  readonly depth: 0 | 1;
  /** True when the line is taken off. */
  readonly minus: boolean;
}

/**
 * From registered procedures to those analysed and how their time ended. Main steps and what is taken off between them
 * add up; the parts of a step add up to it.
 */
export function flowOf(analysis: OutcomesAnalysis): FlowLine[] {
  const { cohort, outcomes } = analysis;
  const outside = cohort.size - outcomes.considered;
  const lines: FlowLine[] = [step('Procedures registered', cohort.size, { kind: 'registered' })];
  if (outside > 0) {
    lines.push(
      part('outside the cohort', outside, { kind: 'outside' }, true),
      step('In the cohort', outcomes.considered, { kind: 'in-cohort' }),
    );
  }
  for (const { code, label } of EXCLUSION_REASONS) {
    const count = outcomes.excluded[code].length;
    if (count > 0) lines.push(part(inSentence(label), count, { kind: 'excluded-for', code }, true));
  }
  lines.push(step('Analysed', outcomes.analysed, { kind: 'analysed' }), ...endings(analysis));
  return lines;
}

function endings({ outcomes, overall }: OutcomesAnalysis): FlowLine[] {
  const { event, deathCompetes } = endpointWords(outcomes.rules);
  const counts = END_CAUSES.map(() => ({ event: 0, died: 0, censored: 0 }));
  for (let position = 0; position < outcomes.analysed; position += 1) {
    const ended = counts[outcomes.cause[position]];
    if (outcomes.status[position] === STATUS.event) ended.event += 1;
    else if (outcomes.status[position] === STATUS.competingDeath) ended.died += 1;
    else ended.censored += 1;
  }
  const parts = (kind: 'event' | 'censored') =>
    END_CAUSES.flatMap(({ code, label }, cause) =>
      counts[cause][kind] > 0
        ? [part(inSentence(label), counts[cause][kind], { kind: 'ended-by', code } as const, false)]
        : [],
    );
  const events = overall.curve.eventTotal;
  const censored = outcomes.analysed - events - overall.competingTotal;
  const died: FlowLine[] = deathCompetes
    ? [step(`Died without a ${event}`, overall.competingTotal, { kind: 'died' })]
    : [];
  return [
    step(`With a ${event}`, events, { kind: 'events' }),
    ...parts('event'),
    ...died,
    step(`Without a ${event} as far as known`, censored, { kind: 'censored' }),
    ...parts('censored'),
  ];
}

const step = (label: string, count: number, set: CaseSet): FlowLine => ({
  label,
  count,
  set,
  depth: 0,
  minus: false,
});
const part = (label: string, count: number, set: CaseSet, minus: boolean): FlowLine => ({
  label,
  count,
  set,
  depth: 1,
  minus,
});

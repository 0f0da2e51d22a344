import { CHALLENGE_RESULTS, DRUG_CHALLENGES, VEIN_BLOCKS } from './acute-vocabulary';
import { inWords, lowerFirst } from './in-words';
import type { ShownStructure } from './lesion-set';
import { labelOf } from './vocabulary';

/** What was found at the end of the procedure, as stored. */
export interface AcuteFacts {
  readonly entranceBlock: string | null;
  readonly exitBlock: string | null;
  readonly waitingMinutes: number | null;
  readonly drugChallenge: string | null;
  readonly drugChallengeResult: string | null;
}

export interface AcuteEndpoint {
  readonly verdict: 'met' | 'not-met' | 'not-recorded';
  /** Plain sentences: isolation first, then waiting and drug, then the lines. */
  readonly reasons: readonly string[];
}

/**
 * The acute endpoint: entrance block in every vein, with no exit conduction where exit block was tested and no conduction left
 * under a drug, and block in both directions across every line that was done. Ours, version 1: entrance block, with or
 * without exit block, and bidirectional block are the trade's endpoints; how long to wait is a matter of protocol (published
 * ones wait 20 min), so waiting time is told, not judged.
 */
export function acuteEndpointOf(facts: AcuteFacts, shown: readonly ShownStructure[]): AcuteEndpoint {
  const answers = [isolationOf(facts), challengeOf(facts), linesOf(shown)];
  const verdicts = answers.flatMap(({ verdict }) => (verdict === null ? [] : [verdict]));
  const verdict = verdicts.includes('not-met')
    ? 'not-met'
    : verdicts.includes('not-recorded')
      ? 'not-recorded'
      : 'met';
  return { verdict, reasons: answers.flatMap(({ reasons }) => reasons) };
}

interface Answer {
  /** Null: this part says nothing about the endpoint. */
  readonly verdict: AcuteEndpoint['verdict'] | null;
  readonly reasons: readonly string[];
}

function isolationOf({ entranceBlock, exitBlock }: AcuteFacts): Answer {
  const entrance =
    entranceBlock === null
      ? 'Entrance block is not recorded.'
      : `Entrance block: ${lowerFirst(labelOf(VEIN_BLOCKS, entranceBlock))}.`;
  const exit = exitBlock === null ? '' : `Exit block: ${lowerFirst(labelOf(VEIN_BLOCKS, exitBlock))}.`;
  const reasons = [entrance, exit].filter(Boolean);
  if (entranceBlock === 'some' || entranceBlock === 'none') return { verdict: 'not-met', reasons };
  if (exitBlock === 'some' || exitBlock === 'none') return { verdict: 'not-met', reasons };
  return { verdict: entranceBlock === 'all' ? 'met' : 'not-recorded', reasons };
}

function challengeOf({ waitingMinutes, drugChallenge, drugChallengeResult }: AcuteFacts): Answer {
  const waited =
    waitingMinutes === null
      ? 'Waiting time is not recorded.'
      : waitingMinutes === 0
        ? 'No waiting.'
        : `After ${waitingMinutes} min of waiting.`;
  if (drugChallenge === null || drugChallenge === 'none') {
    return {
      verdict: null,
      reasons: [
        waited,
        drugChallenge === null
          ? 'Whether a drug was given is not recorded.'
          : 'No drug was given to unmask conduction.',
      ],
    };
  }
  const drug =
    drugChallenge === 'both' ? 'Adenosine and isoproterenol' : labelOf(DRUG_CHALLENGES, drugChallenge);
  const found =
    drugChallengeResult === null
      ? 'the result is not recorded'
      : lowerFirst(labelOf(CHALLENGE_RESULTS, drugChallengeResult));
  return {
    verdict: drugChallengeResult === 'left' ? 'not-met' : null,
    reasons: [waited, `${drug}: ${found}.`],
  };
}

function linesOf(shown: readonly ShownStructure[]): Answer {
  const lines = shown.flatMap(({ kind, segments }) =>
    kind === 'line' ? segments.filter(({ element }) => element.state === 'done') : [],
  );
  const named = (state: string) =>
    lines.filter((line) => line.state === state).map((line) => lowerFirst(line.label));
  const [blocked, open, untold] = [named('abated'), named('still-open'), named('not-recorded')];
  const reasons = [
    ...(blocked.length > 0 ? [`Block in both directions: ${inWords(blocked)}.`] : []),
    ...(open.length > 0 ? [`No block in both directions: ${inWords(open)}.`] : []),
    ...(untold.length > 0 ? [`Block is not recorded: ${inWords(untold)}.`] : []),
  ];
  if (lines.length === 0) return { verdict: null, reasons: [] };
  return { verdict: open.length > 0 ? 'not-met' : untold.length > 0 ? 'not-recorded' : 'met', reasons };
}

import type { EndpointRules } from './endpoint-rules';
import { type Finding, refusal, warning } from './findings';

/**
 * Rules that cannot hold together, each with the reason in plain words (refusals), and rules that can but are seldom
 * meant (warnings). Refusals make a definition unreadable; warnings are for whoever makes one.
 */
export function checkEndpointRules(rules: EndpointRules): Finding[] {
  return [...contradictionsOf(rules), ...doubtsAbout(rules)];
}

function contradictionsOf(rules: EndpointRules): Finding[] {
  const found: Finding[] = [];
  if (rules.start === 'last-procedure' && rules.repeatRule !== 'new-start') {
    found.push(
      refusal(
        'repeatRule',
        `Time starts at the last procedure, so no repeat can follow it and a repeat cannot be a ${
          rules.repeatRule === 'failure' ? 'failure' : 'censoring'
        }. Choose "new start", or start at the first or at each procedure.`,
      ),
    );
  }
  if (rules.start === 'first-procedure' && rules.repeatRule === 'new-start') {
    found.push(
      refusal(
        'repeatRule',
        'Time starts at the first procedure, so a repeat cannot start it anew. Choose failure or censoring, or start at the last procedure.',
      ),
    );
  }
  if (rules.start === 'each-procedure' && rules.repeatRule === 'new-start') {
    found.push(
      refusal(
        'repeatRule',
        'Each procedure has its own time already, which stops at the next one: say whether that next procedure is a failure or a censoring. A new start belongs to time from the last procedure.',
      ),
    );
  }
  if (rules.rhythms === 'af' && rules.confirmedTypicalFlutterExempt) {
    found.push(
      refusal(
        'confirmedTypicalFlutterExempt',
        'Only AF counts, so no flutter counts and none can be exempt. Remove the exemption, or count AF, AT and AFL.',
      ),
    );
  }
  if (neverShowsTheEvent(rules)) {
    found.push(
      refusal(
        'evidenceForFreedom',
        `An episode must last ${lengthInWords(rules)} and a whole tracing does not count, so a recording shorter than 24 h can never show a recurrence and cannot show freedom from one. Ask for recordings of 24 h or longer, let whole tracings count, or shorten the minimum.`,
      ),
    );
  }
  return found;
}

/** Evidence graded "ECG" is shorter than 24 h, so it never holds an episode of 24 h. */
function neverShowsTheEvent(rules: EndpointRules): boolean {
  return rules.evidenceForFreedom === 'ecg' && !rules.wholeTracingCounts && rules.minimumSeconds >= 86_400;
}

const lengthInWords = (rules: EndpointRules): string =>
  `${rules.comparator === 'more-than' ? 'more than ' : ''}${rules.minimumSeconds} s${rules.comparator === 'at-least' ? ' or more' : ''}`;

function doubtsAbout(rules: EndpointRules): Finding[] {
  const found: Finding[] = [];
  if (rules.blankingDays === 0 && !rules.blankingEndInclusive) {
    found.push(
      warning(
        'blankingEndInclusive',
        'Nothing is blanked, not even the day of the procedure: an arrhythmia recorded that day counts, although it may have come before the ablation.',
      ),
    );
  }
  if (
    rules.evidenceForFreedom === 'ecg' &&
    !rules.wholeTracingCounts &&
    rules.minimumSeconds >= 10 &&
    !neverShowsTheEvent(rules)
  ) {
    found.push(
      warning(
        'wholeTracingCounts',
        `A 10-second ECG cannot show an episode of ${lengthInWords(rules)}, and an arrhythmia that fills it does not count: ECGs can then lengthen the time free of arrhythmia but never end it. Let whole tracings count, or ask for longer recordings.`,
      ),
    );
  }
  return found;
}

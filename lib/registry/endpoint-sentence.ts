import type { EndpointDefinition } from './endpoint-definition';
import type { EndpointRules } from './endpoint-rules';

/** What a case without an event is free of, as figures say it. */
export type FreedomNoun = 'free of failure' | 'free of arrhythmia';

/**
 * "Free of failure" when anything but a recorded arrhythmia can end freedom: drugs, a repeat, a cardioversion, or a
 * death that counts as failure. A competing death is drawn apart and is no failure.
 */
export function freedomNoun(rules: EndpointRules): FreedomNoun {
  return rules.drugRule !== 'ignored' ||
    rules.repeatRule === 'failure' ||
    rules.cardioversionCounts ||
    rules.deathRule === 'failure'
    ? 'free of failure'
    : 'free of arrhythmia';
}

/** "Consensus 2017, version 3: any AF, AT or AFL of 30 s or more, after 90 days, off class I and III drugs, one procedure". */
export function describeEndpoint(definition: EndpointDefinition): string {
  return `${definition.name}, version ${definition.versionNumber}: ${describeRules(definition.rules)}`;
}

/**
 * The rules in words, as printed after name and version. What is usual goes unsaid (last day of blanking blanked, whole
 * tracings count, repeat is failure, death censors, any ECG shows freedom), everything else is said:
 * different rules never read the same.
 */
export function describeRules(rules: EndpointRules): string {
  return [
    `${rules.symptomaticOnly ? 'symptomatic' : 'any'} ${rhythmsInWords(rules)}`,
    blankingInWords(rules),
    DRUGS_IN_WORDS[rules.drugRule],
    rules.cardioversionCounts ? 'cardioversion is failure' : '',
    proceduresInWords(rules),
    rules.deathRule === 'failure' ? 'death is failure' : '',
    rules.deathRule === 'competing' ? 'death competes' : '',
    EVIDENCE_IN_WORDS[rules.evidenceForFreedom],
  ]
    .filter((part) => part !== '')
    .join(', ');
}

const DRUGS_IN_WORDS: Readonly<Record<EndpointRules['drugRule'], string>> = {
  ignored: 'on or off drugs',
  'must-be-off': 'off class I and III drugs',
  'resumption-is-failure': 'starting a class I or III drug is failure',
};

const EVIDENCE_IN_WORDS: Readonly<Record<EndpointRules['evidenceForFreedom'], string>> = {
  ecg: '',
  '24h': 'freedom shown by recordings of 24 h or longer',
  '7d': 'freedom shown by recordings of 7 days or longer',
  '14d': 'freedom shown by recordings of 14 days or longer',
  continuous: 'freedom shown by implanted devices',
};

function rhythmsInWords(rules: EndpointRules): string {
  const rhythms = rules.rhythms === 'af' ? 'AF' : 'AF, AT or AFL';
  const exempt = rules.confirmedTypicalFlutterExempt ? ' (not confirmed typical flutter)' : '';
  return `${rhythms}${exempt}${lengthInWords(rules)}`;
}

function lengthInWords(rules: EndpointRules): string {
  const length =
    rules.comparator === 'more-than'
      ? ` of more than ${rules.minimumSeconds} s`
      : rules.minimumSeconds === 0
        ? ' of any length'
        : ` of ${rules.minimumSeconds} s or more`;
  return rules.wholeTracingCounts ? length : `${length} (a whole tracing alone does not count)`;
}

function blankingInWords(rules: EndpointRules): string {
  const days = rules.blankingDays === 1 ? '1 day' : `${rules.blankingDays} days`;
  if (rules.blankingEndInclusive) return `after ${days}`;
  return rules.blankingDays === 0 ? 'nothing blanked' : `from day ${rules.blankingDays}`;
}

function proceduresInWords(rules: EndpointRules): string {
  if (rules.start === 'last-procedure') return 'from the last procedure';
  if (rules.start === 'each-procedure') {
    return rules.repeatRule === 'failure'
      ? 'each procedure, the next is failure'
      : 'each procedure, censored at the next';
  }
  return rules.repeatRule === 'failure' ? 'one procedure' : 'one procedure, censored at a repeat';
}

import type { EndpointRules } from '../../registry/endpoint-rules';
import { freedomNoun } from '../../registry/endpoint-sentence';

/** How the figure speaks of the event and of freedom from it. */
export interface EndpointWords {
  /** 'recurrence' when only recorded arrhythmia ends freedom, else 'failure'. */
  readonly event: 'recurrence' | 'failure';
  /** What the curve shows: 'Free of arrhythmia', or 'Without a recurrence' when death competes. */
  readonly freedom: string;
  readonly deathCompetes: boolean;
}

/**
 * With competing deaths the curve is one minus the incidence of the event. Who died before the event stays above it, so
 * it must not be read as 'free and alive': the words are 'without'.
 */
export function endpointWords(rules: EndpointRules): EndpointWords {
  const event = freedomNoun(rules) === 'free of failure' ? 'failure' : 'recurrence';
  const deathCompetes = rules.deathRule === 'competing';
  const noun = freedomNoun(rules);
  return {
    event,
    freedom: deathCompetes ? `Without a ${event}` : `${noun.charAt(0).toUpperCase()}${noun.slice(1)}`,
    deathCompetes,
  };
}

import { DERIVED_STRATEGIES, labelOf, NOT_DERIVABLE, STRATEGIES } from './vocabulary';

export interface StrategyOpinions {
  readonly derived: string;
  /** What the operator intended, as labelled. */
  readonly labelled: string | null;
  /** What a person decided, both others seen. */
  readonly settled: string | null;
}

export interface StrategyAgreement {
  /** 'settled': a person decided, and that decision still answers a disagreement. */
  readonly kind: 'agree' | 'disagree' | 'settled' | 'no-label' | 'not-derivable';
  readonly words: string;
}

/** Whether the operator's label and the lesions say the same. Neither is ever overwritten: a decision stands beside them. */
export function agreementOf({ derived, labelled, settled }: StrategyOpinions): StrategyAgreement {
  const lesions = labelOf(DERIVED_STRATEGIES, derived).toLowerCase();
  const label = labelled === null ? null : labelOf(STRATEGIES, labelled).toLowerCase();
  const decision =
    settled === null
      ? ''
      : ` Settled by a person as ${labelOf(STRATEGIES, settled).toLowerCase()}; both are kept.`;
  if (label === null) return { kind: 'no-label', words: `The operator gave no label.${decision}` };
  if (derived === NOT_DERIVABLE) {
    return {
      kind: 'not-derivable',
      words: `The operator wrote ${label}; the lesions do not say.${decision}`,
    };
  }
  if (derived === labelled) return { kind: 'agree', words: `The operator wrote the same.${decision}` };
  const words = `The operator wrote ${label}; the lesions show ${lesions}.`;
  return settled === null ? { kind: 'disagree', words } : { kind: 'settled', words: `${words}${decision}` };
}

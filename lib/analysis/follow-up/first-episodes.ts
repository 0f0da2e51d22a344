import type { Cohort } from '../../registry/cohort';
import type { EndpointDefinition } from '../../registry/endpoint-definition';
import { describeRules } from '../../registry/endpoint-sentence';
import { deriveOutcomes, placeOfCase } from '../../registry/time-to-event';
import { END_CAUSES, EXCLUSION_REASONS } from '../../registry/time-to-event-causes';
import { explainOutcome } from '../../registry/time-to-event-sentence';

/** What one endpoint definition makes of one case. */
export interface CaseUnderDefinition {
  readonly id: string;
  readonly name: string;
  readonly versionNumber: number;
  readonly rules: string;
  /** Days; undefined when the case has no time. */
  readonly timeDays: number | undefined;
  readonly status: string;
  readonly why: string;
}

/** One case under each definition of the lab; empty when the cohort has no such case. */
export function caseUnderDefinitions(
  cohort: Cohort,
  procedureId: string,
  definitions: readonly EndpointDefinition[],
): CaseUnderDefinition[] {
  const index = cohort.procedureId.indexOf(procedureId);
  if (index < 0) return [];
  const alone = new Uint8Array(cohort.size);
  alone[index] = 1;
  return definitions.map(({ id, name, versionNumber, rules }) => {
    const outcomes = deriveOutcomes(cohort, rules, alone);
    const place = placeOfCase(outcomes, index);
    const isAnalysed = place?.kind === 'analysed';
    return {
      id,
      name,
      versionNumber,
      rules: describeRules(rules),
      timeDays: isAnalysed ? outcomes.timeDays[place.position] : undefined,
      status: isAnalysed
        ? END_CAUSES[outcomes.cause[place.position]].label
        : (EXCLUSION_REASONS.find((term) => place?.kind === 'excluded' && term.code === place.reason)
            ?.label ?? 'Not analysed'),
      why: explainOutcome(cohort, outcomes, index),
    };
  });
}

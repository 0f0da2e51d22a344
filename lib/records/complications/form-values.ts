import 'server-only';
import { reportText } from '../../registry/forms/adjudication-form';
import { factsFormValues } from '../../registry/forms/complication-entries';
import type { ComplicationFormInput } from '../../registry/forms/complication-form';
import { dayFromDateOrNull } from '../day-edge';
import type { Complication } from '../generated/client';
import { judgedFactsOf, reportedFacts } from './read';

/** The course of a stored complication as the form holds it. */
function courseFormValues(row: Complication) {
  return {
    treatment: row.treatment ?? '',
    outcome: row.outcome ?? '',
    attribution: row.attribution ?? '',
    resolvedOn: dayFromDateOrNull(row.resolvedOn) ?? '',
  };
}

/** What was reported, as the form holds it. */
function reportFormValues(row: Complication) {
  return { ...factsFormValues(reportedFacts(row)), ...courseFormValues(row) } satisfies ComplicationFormInput;
}

type ByPath = Record<string, string | boolean>;

function withHarmPaths<Values extends { readonly harms: object }>(values: Values): ByPath {
  const { harms, ...own } = values;
  return {
    ...own,
    ...Object.fromEntries(Object.entries(harms).map(([code, ticked]) => [`harms.${code}`, ticked === true])),
  };
}

/** The report by path, as conflicts name it: 'harms.transfusion'. */
export const reportValuesByPath = (row: Complication): ByPath => withHarmPaths(reportFormValues(row));

/**
 * A stored verdict by path, and the report that it must be about. What it says about the facts is named only where the
 * verdict has facts of its own.
 */
export function verdictValuesByPath(row: Complication): ByPath {
  const facts = judgedFactsOf(row);
  return {
    verdict: row.adjudicatedVerdict ?? '',
    seenReport: reportText(reportedFacts(row)),
    ...(row.adjudicatedVerdict === 'reclassified' && facts ? withHarmPaths(factsFormValues(facts)) : {}),
  };
}

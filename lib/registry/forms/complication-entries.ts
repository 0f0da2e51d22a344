import { z } from 'zod';
import type { ComplicationFacts } from '../complication-standing';
import type { ComplicationCode } from '../complications';
import { HARMS, type Harm, SEVERITIES, type Severity, severityOf } from '../complications';
import { tickEntry } from './entries';
import { COMPLICATION_LABELS } from './field-labels';

/** One tick per harm, by code, as the form holds them. */
export type HarmTicks = Record<Harm, boolean>;

/** The ticks of a stored list; none for a new entry. */
export function harmTicks(harms: readonly string[] = []): HarmTicks {
  return Object.fromEntries(HARMS.map(({ code }) => [code, harms.includes(code)])) as HarmTicks;
}

const tickShape = Object.fromEntries(HARMS.map(({ code, label }) => [code, tickEntry(label)])) as Record<
  Harm,
  ReturnType<typeof tickEntry>
>;

/** The harms that are ticked, in the order of the list. */
export const harmsEntry = z
  .strictObject(tickShape, {
    error: `${COMPLICATION_LABELS.harms}: the list could not be read. Reload the page.`,
  })
  .transform((ticks): Harm[] => HARMS.map(({ code }) => code).filter((code) => ticks[code]));

/** The severity that the rule gives, unless a person decides. */
export const BY_RULE = 'by-rule';
export const SEVERITY_CHOICES = [
  { code: BY_RULE, label: 'As the rule says', definition: 'From the complication and what it led to.' },
  ...SEVERITIES,
] as const;
export type SeverityChoice = typeof BY_RULE | Severity;

/** The severity that is stored for a choice. */
export function chosenSeverity(
  choice: SeverityChoice,
  type: ComplicationCode,
  harms: readonly Harm[],
): Severity {
  return choice === BY_RULE ? severityOf(type, harms).severity : choice;
}

/** A stored severity as the form's choice: the rule's own unless a person decided otherwise. */
function severityChoiceOf(
  severity: Severity,
  type: ComplicationCode,
  harms: readonly Harm[],
): SeverityChoice {
  return severity === severityOf(type, harms).severity ? BY_RULE : severity;
}

/** Stored facts as the forms hold them. */
export function factsFormValues({ type, onsetOn, harms, severity }: ComplicationFacts) {
  return { type, onsetOn, harms: harmTicks(harms), severity: severityChoiceOf(severity, type, harms) };
}

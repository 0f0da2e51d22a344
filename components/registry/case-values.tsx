import { DefinitionList } from '@/components/ui/definition-list';
import { BASELINE_NUMBERS } from '@/lib/registry/forms/baseline-entries';
import { BASELINE_LABELS, PROCEDURE_LABELS } from '@/lib/registry/forms/field-labels';
import { PROCEDURE_NUMBERS, type ProcedureFormInput } from '@/lib/registry/forms/procedure-form';
import { KEEP_REASONS } from '@/lib/registry/procedure-vocabulary';
import { readUnit } from '@/lib/registry/units';
import { labelOf } from '@/lib/registry/vocabulary';
import type { FormValue } from '@/lib/registry/write-result';
import { wordsForProcedure } from './procedure-words';

interface CaseValuesProps {
  readonly values: ProcedureFormInput;
  readonly operators: readonly { readonly id: string; readonly code: string }[];
  /** Unusual values that were kept, by path, with the reason. */
  readonly kept: readonly { readonly field: string; readonly reason: string }[];
}

const UNITS: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries({ ...PROCEDURE_NUMBERS, ...BASELINE_NUMBERS }).map(([name, field]) => [name, field.unit]),
);

/** What was known before the procedure, as stored. */
export function BaselineValues({ values, operators, kept }: CaseValuesProps) {
  const baseline: Readonly<Record<string, unknown>> = values.baseline;
  return (
    <DefinitionList
      items={Object.entries(BASELINE_LABELS).map(([name, term]) => ({
        term,
        detail: withReason(
          printed(`baseline.${name}`, name, baseline[name], operators),
          `baseline.${name}`,
          kept,
        ),
      }))}
    />
  );
}

/** What was done, as stored. */
export function ProcedureValues({ values, operators, kept }: CaseValuesProps) {
  const { baseline: _before, kept: _reasons, ...own } = values;
  return (
    <DefinitionList
      items={Object.entries(own).map(([name, value]) => ({
        term: PROCEDURE_LABELS[name] ?? name,
        detail: withReason(printed(name, name, value, operators), name, kept),
      }))}
    />
  );
}

function printed(
  path: string,
  name: string,
  value: unknown,
  operators: CaseValuesProps['operators'],
): string {
  const choices = operators.map(({ id, code }) => ({ code: id, label: code }));
  const words = wordsForProcedure(path, isPrintable(value) ? value : null, choices);
  const unit = UNITS[name];
  return words === 'not recorded' || !unit ? words : `${words} ${readUnit(unit)}`;
}

function isPrintable(value: unknown): value is FormValue | readonly string[] {
  return value === null || Array.isArray(value) || ['string', 'number', 'boolean'].includes(typeof value);
}

/** An unusual value says that it was kept, and why. */
function withReason(words: string, field: string, kept: CaseValuesProps['kept']): string {
  const reason = kept.find((entry) => entry.field === field)?.reason;
  return reason === undefined
    ? words
    : `${words} (unusual, kept: ${labelOf(KEEP_REASONS, reason).toLowerCase()})`;
}

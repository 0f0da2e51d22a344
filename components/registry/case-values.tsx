import { DefinitionList } from '@/components/ui/definition-list';
import { BASELINE_NUMBERS } from '@/lib/registry/forms/baseline-entries';
import { BASELINE_LABELS, PROCEDURE_LABELS } from '@/lib/registry/forms/field-labels';
import { PROCEDURE_NUMBERS, type ProcedureFormInput } from '@/lib/registry/forms/procedure-form';
import { readUnit } from '@/lib/registry/units';
import type { FormValue } from '@/lib/registry/write-result';
import { wordsForProcedure } from './procedure-words';

interface CaseValuesProps {
  readonly values: ProcedureFormInput;
  readonly operators: readonly { readonly id: string; readonly code: string }[];
}

const UNITS: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries({ ...PROCEDURE_NUMBERS, ...BASELINE_NUMBERS }).map(([name, field]) => [name, field.unit]),
);

/** What was known before the procedure, as stored. */
export function BaselineValues({ values, operators }: CaseValuesProps) {
  const baseline: Readonly<Record<string, unknown>> = values.baseline;
  return (
    <DefinitionList
      items={Object.entries(BASELINE_LABELS).map(([name, term]) => ({
        term,
        detail: printed(`baseline.${name}`, name, baseline[name], operators),
      }))}
    />
  );
}

/** What was done, as stored. */
export function ProcedureValues({ values, operators }: CaseValuesProps) {
  const { baseline: _before, ...own } = values;
  return (
    <DefinitionList
      items={Object.entries(own).map(([name, value]) => ({
        term: PROCEDURE_LABELS[name] ?? name,
        detail: printed(name, name, value, operators),
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
  const words = wordsForProcedure(path, isFormValue(value) ? value : null, choices);
  const unit = UNITS[name];
  return words === 'not recorded' || !unit ? words : `${words} ${readUnit(unit)}`;
}

function isFormValue(value: unknown): value is FormValue {
  return value === null || ['string', 'number', 'boolean'].includes(typeof value);
}

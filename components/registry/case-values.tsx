import { DefinitionList } from '@/components/ui/definition-list';
import { PROCEDURE_VARIABLES } from '@/lib/registry/case-variables';
import { BASELINE_NUMBERS } from '@/lib/registry/forms/baseline-entries';
import { BASELINE_LABELS } from '@/lib/registry/forms/field-labels';
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
    <Values
      items={Object.entries(BASELINE_LABELS).map(([name, term]) => ({
        term,
        words: printed(`baseline.${name}`, name, baseline[name], operators),
        reason: reasonOf(`baseline.${name}`, kept),
      }))}
    />
  );
}

/** What was done, as stored. */
export function ProcedureValues({ values, operators, kept }: CaseValuesProps) {
  const own: Readonly<Record<string, unknown>> = values;
  return (
    <Values
      items={Object.entries(PROCEDURE_VARIABLES).map(([name, { label: term }]) => ({
        term,
        words: printed(name, name, own[name], operators),
        reason: reasonOf(name, kept),
      }))}
    />
  );
}

interface ValuesProps {
  readonly items: readonly { readonly term: string; readonly words: string; readonly reason: string }[];
}

/** What is recorded one by one, and what is not in one line: an empty field is not a "no". */
function Values({ items }: ValuesProps) {
  const isOpen = ({ words }: { words: string }) =>
    words.endsWith('not recorded') || words === 'none recorded';
  const open = items.filter(isOpen);
  return (
    <>
      <DefinitionList
        items={items
          .filter((item) => !isOpen(item))
          .map(({ term, words, reason }) => ({ term, detail: `${words}${reason}` }))}
      />
      {open.length > 0 ? <p>Not recorded: {open.map(({ term }) => term).join(', ')}.</p> : null}
    </>
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
function reasonOf(field: string, kept: CaseValuesProps['kept']): string {
  const reason = kept.find((entry) => entry.field === field)?.reason;
  return reason === undefined ? '' : ` (unusual, kept: ${labelOf(KEEP_REASONS, reason).toLowerCase()})`;
}

import { PlainSelectField, PlainTextField } from '@/components/forms/plain-field';
import { Button, LinkButton } from '@/components/ui/button';
import type { QuestionField, QuestionForms } from '@/lib/analysis/outcomes/question-forms';
import type { Finding } from '@/lib/registry/findings';
import styles from './question-panels.module.css';

type Hidden = QuestionForms['keepRules'];

/** The three ways to ask otherwise. Each is a plain form sent in the address: it works without scripts and can be shared. */
export function QuestionPanels({ forms, findings }: { forms: QuestionForms; findings: readonly Finding[] }) {
  const { definitions, definitionId, rules, filters, grouping, keepRules, keepFilters } = forms;
  const wrong = new Set(findings.filter(({ kind }) => kind === 'refusal').map(({ field }) => field));
  const isWrong = (fields: readonly QuestionField[]) => fields.some(({ param }) => wrong.has(param));
  const definition: Hidden = definitionId === '' ? [] : [['definition', definitionId]];
  return (
    <div className={styles.panels}>
      <details className={styles.panel} open={wrong.has('definition')}>
        <summary>Change definition</summary>
        <PanelForm hidden={keepFilters} submit="Show under this definition">
          <PlainSelectField
            name="definition"
            label="Endpoint definition"
            choices={definitions}
            defaultValue={definitionId}
            emptyLabel="the first of the lab"
          />
        </PanelForm>
      </details>
      <details className={styles.panel} open={isWrong(rules)}>
        <summary>Try other rules</summary>
        <PanelForm hidden={[...definition, ...keepFilters]} submit="Show this variation">
          {rules.map((field) => (
            <AnyField key={field.param} field={field} />
          ))}
        </PanelForm>
        <p className={styles.hint}>
          A variation is computed for this view only and is stored nowhere. The figure says so.
        </p>
        {keepRules.length > 0 ? (
          <LinkButton href={hrefOf([...definition, ...keepFilters])}>Back to the stored rules</LinkButton>
        ) : null}
      </details>
      <details className={styles.panel} open={isWrong([...filters, grouping])}>
        <summary>Filter and group</summary>
        <PanelForm hidden={[...definition, ...keepRules]} submit="Show these cases">
          <AnyField field={grouping} />
          {filters.map((field) => (
            <AnyField key={field.param} field={field} />
          ))}
        </PanelForm>
        <LinkButton href={hrefOf([...definition, ...keepRules])}>All cases together</LinkButton>
      </details>
    </div>
  );
}

const hrefOf = (params: Hidden): string =>
  `/outcomes?${new URLSearchParams(params.map(([name, value]) => [name, value]))}`;

function PanelForm({
  hidden,
  submit,
  children,
}: {
  hidden: Hidden;
  submit: string;
  children: React.ReactNode;
}) {
  return (
    <form method="get" action="/outcomes" className={styles.form}>
      {hidden.map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <div className={styles.fields}>{children}</div>
      <Button type="submit" weight="primary">
        {submit}
      </Button>
    </form>
  );
}

function AnyField({ field }: { field: QuestionField }) {
  const { param, label, unit, choices, unset, value, error } = field;
  return choices ? (
    <PlainSelectField
      name={param}
      label={label}
      choices={choices}
      defaultValue={value}
      emptyLabel={unset}
      error={error}
    />
  ) : (
    <PlainTextField
      name={param}
      label={label}
      unit={unit}
      hint={unset}
      defaultValue={value}
      inputMode="numeric"
      maxLength={6}
      error={error}
    />
  );
}

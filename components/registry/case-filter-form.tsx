import { PlainSelectField, PlainTextField } from '@/components/forms/plain-field';
import { Button, LinkButton } from '@/components/ui/button';
import { AF_TYPES, STRATEGIES } from '@/lib/registry/vocabulary';
import styles from './case-filter-form.module.css';

interface CaseFilterFormProps {
  readonly query: {
    readonly afType?: string | undefined;
    readonly strategy?: string | undefined;
    readonly operator?: string | undefined;
    readonly year?: number | undefined;
    readonly sequence?: string | undefined;
  };
  readonly operators: readonly { readonly code: string }[];
}

const SEQUENCES = [
  { code: 'first', label: 'First procedure' },
  { code: 'repeat', label: 'Repeat procedure' },
];

/** Filters of the register: a plain form whose choices stand in the address, so that a view can be kept and shared. */
export function CaseFilterForm({ query, operators }: CaseFilterFormProps) {
  return (
    <form method="get" action="/cases" className={styles.form} aria-label="Filter of the register">
      <PlainSelectField
        name="afType"
        label="AF type"
        choices={AF_TYPES}
        defaultValue={query.afType}
        emptyLabel="any"
      />
      <PlainSelectField
        name="strategy"
        label="Strategy as labelled"
        choices={STRATEGIES}
        defaultValue={query.strategy}
        emptyLabel="any"
      />
      <PlainSelectField
        name="operator"
        label="Operator"
        choices={operators.map(({ code }) => ({ code, label: code }))}
        defaultValue={query.operator}
        emptyLabel="any"
      />
      <PlainSelectField
        name="sequence"
        label="Sequence"
        choices={SEQUENCES}
        defaultValue={query.sequence}
        emptyLabel="any"
      />
      <PlainTextField
        name="year"
        label="Year"
        inputMode="numeric"
        maxLength={4}
        defaultValue={query.year === undefined ? '' : String(query.year)}
      />
      <span className={styles.actions}>
        <Button type="submit">Filter</Button>
        <LinkButton href="/cases">All</LinkButton>
      </span>
    </form>
  );
}

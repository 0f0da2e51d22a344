import type { Metadata } from 'next';
import { CaseFilterForm } from '@/components/registry/case-filter-form';
import { CaseTable } from '@/components/registry/case-table';
import { FindPatient } from '@/components/registry/find-patient';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { EmptyState } from '@/components/ui/empty-state';
import { PageHead } from '@/components/ui/page-head';
import { Pager } from '@/components/ui/pager';
import { Ribbon } from '@/components/ui/ribbon';
import { findPatient } from './actions';
import { type CaseQuery, type CasesPage, loadCases } from './load';

export const metadata: Metadata = { title: 'Cases' };

interface PageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

const hrefOf = (query: CaseQuery, page: number) => {
  const texts = Object.entries({ ...query, page: page > 1 ? page : undefined }).flatMap(([name, value]) =>
    value === undefined ? [] : [[name, String(value)]],
  );
  return texts.length > 0 ? `/cases?${new URLSearchParams(texts)}` : '/cases';
};

export default async function Cases({ searchParams }: PageProps) {
  const register = await loadCases(await searchParams);
  const { query, rows, total, from, hasNext, mayRegister } = register;
  const filtered = Object.entries(query).some(([name, value]) => name !== 'page' && value !== undefined);
  const number = total.toLocaleString('en-GB');
  return (
    <>
      <PageHead
        title={
          filtered
            ? `${number} ${total === 1 ? 'case' : 'cases'} under this filter`
            : `The register holds ${number} cases`
        }
        lede="A case is one procedure. Latest first."
      />
      <Ribbon
        items={[
          {
            value: (
              <CaseFilterForm key={JSON.stringify(query)} query={query} operators={register.operators} />
            ),
          },
        ]}
        actions={
          mayRegister ? (
            <LinkButton href="/patients/new" weight="primary">
              Register a patient
            </LinkButton>
          ) : null
        }
      />
      <FindPatient find={findPatient} />
      <WithoutCase patients={register.withoutCase} />
      {rows.length === 0 ? (
        <NoCase filtered={filtered} />
      ) : (
        <CaseTable caption="Cases, latest procedure first" rows={rows} />
      )}
      <Pager
        from={from}
        to={from + rows.length - 1}
        total={total}
        noun="cases"
        previousHref={query.page > 1 ? hrefOf(query, query.page - 1) : undefined}
        nextHref={hasNext ? hrefOf(query, query.page + 1) : undefined}
      />
    </>
  );
}

function NoCase({ filtered }: { filtered: boolean }) {
  if (filtered) {
    return (
      <EmptyState
        title="No case fits this filter"
        action={<LinkButton href="/cases">Show all cases</LinkButton>}
      >
        <p>Loosen one of the filters above.</p>
      </EmptyState>
    );
  }
  return (
    <EmptyState title="The register is empty">
      <p>Register a patient and record the procedure, or bring in a rhythm file under Exchange.</p>
    </EmptyState>
  );
}

function WithoutCase({ patients }: { patients: CasesPage['withoutCase'] }) {
  if (patients.length === 0) return null;
  return (
    <p>
      Registered, no procedure yet:{' '}
      {patients.map((patient, index) => (
        <span key={patient.id}>
          {index > 0 ? ', ' : ''}
          <CountLink href={`/patients/${patient.id}`}>{patient.code}</CountLink>
        </span>
      ))}
      .
    </p>
  );
}

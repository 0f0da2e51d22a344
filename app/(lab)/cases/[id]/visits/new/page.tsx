import type { Metadata } from 'next';
import { NewVisitForm } from '@/components/registry/visit-record-form';
import { PageHead } from '@/components/ui/page-head';
import { caseCode } from '@/lib/registry/cohort';
import { draftOf } from '../../../../drafts/draft-of';
import { enterVisit } from '../../actions';
import { loadNewVisit } from '../../load';

export const metadata: Metadata = { title: 'Enter a visit' };

interface PageProps {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function NewVisit({ params, searchParams }: PageProps) {
  const { head, choices, proposedSlot, context, draft } = await loadNewVisit(
    (await params).id,
    (await searchParams).slot,
  );
  return (
    <>
      <PageHead
        title={`Enter a visit of ${caseCode(head.patientCode, head.ordinal)}`}
        lede={`Ablated on ${head.performedOn}.`}
      />
      <NewVisitForm
        action={enterVisit.bind(null, head.id)}
        proposedSlot={proposedSlot}
        slots={choices}
        context={context}
        draft={draftOf('visit-new', head.id, draft)}
        cancelHref={`/cases/${head.id}/follow-up`}
      />
    </>
  );
}

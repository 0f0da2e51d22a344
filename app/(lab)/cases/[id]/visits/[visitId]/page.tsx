import type { Metadata } from 'next';
import { EditVisitForm } from '@/components/registry/visit-record-form';
import { PageHead } from '@/components/ui/page-head';
import { caseCode } from '@/lib/registry/cohort';
import { draftOf } from '../../../../drafts/draft-of';
import { changeVisit } from '../../actions';
import { loadVisitEdit } from '../../load';

export const metadata: Metadata = { title: 'Change a visit' };

export default async function EditVisit({ params }: { params: Promise<{ id: string; visitId: string }> }) {
  const { id, visitId } = await params;
  const { head, visit, choices, context, draft } = await loadVisitEdit(id, visitId);
  return (
    <>
      <PageHead
        title={`Change a visit of ${caseCode(head.patientCode, head.ordinal)}`}
        lede="The old values stay in the history of the case."
      />
      <EditVisitForm
        key={visit.version}
        action={changeVisit.bind(null, head.id, visit.id)}
        values={visit.values}
        version={visit.version}
        slots={choices}
        context={context}
        draft={draftOf('visit', visit.id, draft)}
        cancelHref={`/cases/${head.id}/follow-up`}
      />
    </>
  );
}

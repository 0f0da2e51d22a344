import type { Metadata } from 'next';
import { draftOf } from '@/app/(lab)/drafts/draft-of';
import { NewReadmissionForm } from '@/components/registry/readmission-record-form';
import { PageHead } from '@/components/ui/page-head';
import { caseCode } from '@/lib/registry/cohort';
import { enterReadmission } from '../actions';
import { loadNewReadmission } from '../load';

export const metadata: Metadata = { title: 'Enter a readmission' };

export default async function NewReadmission({ params }: { params: Promise<{ id: string }> }) {
  const { head, context, draft } = await loadNewReadmission((await params).id);
  const home =
    context.dischargedOn === null ? 'No discharge is recorded.' : `Home on ${context.dischargedOn}.`;
  return (
    <>
      <PageHead
        title={`Enter a readmission of ${caseCode(head.patientCode, head.ordinal)}`}
        lede={`Ablated on ${head.performedOn}. ${home}`}
      />
      <NewReadmissionForm
        action={enterReadmission.bind(null, head.id)}
        context={context}
        draft={draftOf('readmission-new', head.id, draft)}
        cancelHref={`/cases/${head.id}/complications`}
      />
    </>
  );
}

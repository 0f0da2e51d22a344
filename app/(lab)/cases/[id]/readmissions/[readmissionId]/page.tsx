import type { Metadata } from 'next';
import { draftOf } from '@/app/(lab)/drafts/draft-of';
import { EditReadmissionForm } from '@/components/registry/readmission-record-form';
import { VoidEntryForm } from '@/components/registry/void-record-form';
import { PageHead } from '@/components/ui/page-head';
import { caseCode } from '@/lib/registry/cohort';
import { changeReadmission, makeReadmissionVoid } from '../actions';
import { loadReadmissionEdit } from '../load';

export const metadata: Metadata = { title: 'Change a readmission' };

interface PageProps {
  readonly params: Promise<{ id: string; readmissionId: string }>;
}

export default async function EditReadmission({ params }: PageProps) {
  const { id, readmissionId } = await params;
  const { head, readmission, context, draft } = await loadReadmissionEdit(id, readmissionId);
  return (
    <>
      <PageHead
        title={`Change a readmission of ${caseCode(head.patientCode, head.ordinal)}`}
        lede="The old values stay in the history of the case."
      />
      <EditReadmissionForm
        key={readmission.version}
        action={changeReadmission.bind(null, head.id, readmission.id)}
        values={readmission.values}
        version={readmission.version}
        context={context}
        draft={draftOf('readmission', readmission.id, draft)}
        cancelHref={`/cases/${head.id}/complications`}
      />
      <VoidEntryForm
        action={makeReadmissionVoid.bind(null, head.id, readmission.id)}
        version={readmission.version}
      />
    </>
  );
}

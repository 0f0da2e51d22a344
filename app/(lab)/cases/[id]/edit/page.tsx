import type { Metadata } from 'next';
import { EditProcedureForm } from '@/components/registry/procedure-record-form';
import { PageHead } from '@/components/ui/page-head';
import { caseCode } from '@/lib/registry/cohort';
import { draftOf } from '../../../drafts/draft-of';
import { changeProcedure } from '../actions';
import { loadProcedureEdit } from '../load';

export const metadata: Metadata = { title: 'Change a case' };

export default async function EditCase({ params }: { params: Promise<{ id: string }> }) {
  const { head, operators, context, draft } = await loadProcedureEdit((await params).id);
  return (
    <>
      <PageHead
        title={`Change case ${caseCode(head.patientCode, head.ordinal)}`}
        lede="The old value stays in the history of the case."
      />
      <EditProcedureForm
        key={head.version}
        action={changeProcedure.bind(null, head.id)}
        values={head.values}
        version={head.version}
        operators={operators.map(({ id, code }) => ({ code: id, label: code }))}
        context={context}
        draft={draftOf('procedure', head.id, draft)}
        cancelHref={`/cases/${head.id}`}
      />
    </>
  );
}

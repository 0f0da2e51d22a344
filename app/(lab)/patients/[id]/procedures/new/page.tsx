import type { Metadata } from 'next';
import { NewProcedureForm } from '@/components/registry/procedure-record-form';
import { PageHead } from '@/components/ui/page-head';
import { draftOf } from '../../../../drafts/draft-of';
import { recordProcedureOf } from '../../../actions';
import { loadNewProcedure } from '../../../load';

export const metadata: Metadata = { title: 'Record a procedure' };

export default async function NewProcedure({ params }: { params: Promise<{ id: string }> }) {
  const { place, context, operators, draft } = await loadNewProcedure((await params).id);
  return (
    <>
      <PageHead
        title={`Record a procedure of ${place.patientCode}`}
        lede="What is not known may stay empty: empty is not “no”."
      />
      <NewProcedureForm
        action={recordProcedureOf.bind(null, place.patientId)}
        operators={operators.map(({ id, code }) => ({ code: id, label: code }))}
        context={context}
        draft={draftOf('procedure-new', place.patientId, draft)}
        cancelHref={`/patients/${place.patientId}`}
      />
    </>
  );
}

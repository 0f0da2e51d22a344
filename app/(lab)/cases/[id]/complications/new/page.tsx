import type { Metadata } from 'next';
import { draftOf } from '@/app/(lab)/drafts/draft-of';
import { NewComplicationForm } from '@/components/registry/complication-record-form';
import { PageHead } from '@/components/ui/page-head';
import { caseCode } from '@/lib/registry/cohort';
import { enterComplication } from '../actions';
import { loadNewComplication } from '../load';

export const metadata: Metadata = { title: 'Report a complication' };

export default async function NewComplication({ params }: { params: Promise<{ id: string }> }) {
  const { head, context, draft } = await loadNewComplication((await params).id);
  return (
    <>
      <PageHead
        title={`Report a complication of ${caseCode(head.patientCode, head.ordinal)}`}
        lede={`Ablated on ${head.performedOn}. It counts as reported until somebody else has adjudicated it.`}
      />
      <NewComplicationForm
        action={enterComplication.bind(null, head.id)}
        context={context}
        draft={draftOf('complication-new', head.id, draft)}
        cancelHref={`/cases/${head.id}/complications`}
      />
    </>
  );
}

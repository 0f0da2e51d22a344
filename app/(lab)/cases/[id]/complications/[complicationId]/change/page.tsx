import type { Metadata } from 'next';
import { draftOf } from '@/app/(lab)/drafts/draft-of';
import { EditComplicationForm } from '@/components/registry/complication-record-form';
import { VoidEntryForm } from '@/components/registry/void-record-form';
import { PageHead } from '@/components/ui/page-head';
import { caseCode } from '@/lib/registry/cohort';
import { changeComplication, makeComplicationVoid } from '../../actions';
import { loadComplicationEdit } from '../../load';

export const metadata: Metadata = { title: 'Change a complication' };

interface PageProps {
  readonly params: Promise<{ id: string; complicationId: string }>;
}

export default async function EditComplication({ params }: PageProps) {
  const { id, complicationId } = await params;
  const { head, complication, values, context, draft } = await loadComplicationEdit(id, complicationId);
  const isJudged = context.judgedReport !== null;
  return (
    <>
      <PageHead
        title={`Change a complication of ${caseCode(head.patientCode, head.ordinal)}`}
        lede={
          isJudged
            ? 'It is adjudicated: what was reported stays as it was judged, its course may change.'
            : 'Whoever changes what is judged becomes the reporter. The old values stay in the history of the case.'
        }
      />
      <EditComplicationForm
        key={complication.version}
        action={changeComplication.bind(null, head.id, complication.id)}
        values={values}
        version={complication.version}
        context={context}
        draft={draftOf('complication', complication.id, draft)}
        cancelHref={`/cases/${head.id}/complications/${complication.id}`}
      />
      {isJudged ? null : (
        <VoidEntryForm
          action={makeComplicationVoid.bind(null, head.id, complication.id)}
          version={complication.version}
        />
      )}
    </>
  );
}

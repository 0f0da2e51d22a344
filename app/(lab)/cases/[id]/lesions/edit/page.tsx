import type { Metadata } from 'next';
import { LesionRecordForm } from '@/components/lesions/lesion-record-form';
import { PageHead } from '@/components/ui/page-head';
import { caseCode } from '@/lib/registry/cohort';
import { draftOf } from '../../../../drafts/draft-of';
import { readApplicationFile, storeLesions } from '../actions';
import { loadLesionEdit } from '../load';

export const metadata: Metadata = { title: 'Lesion set' };

export default async function EditLesions({ params }: { params: Promise<{ id: string }> }) {
  const { head, lesions, draft } = await loadLesionEdit((await params).id);
  return (
    <>
      <PageHead
        title={`Lesion set of ${caseCode(head.patientCode, head.ordinal)}`}
        lede={
          lesions.context.needsReason
            ? 'The old values stay in the history of the case.'
            : `Ablated on ${head.performedOn}. Completeness, endpoint and strategy follow from what is entered.`
        }
      />
      <LesionRecordForm
        key={lesions.version}
        action={storeLesions.bind(null, head.id)}
        stored={lesions.stored}
        version={lesions.version}
        context={lesions.context}
        kept={lesions.kept}
        readFile={readApplicationFile}
        draft={draftOf('lesions', head.id, draft)}
        cancelHref={`/cases/${head.id}/lesions`}
      />
    </>
  );
}

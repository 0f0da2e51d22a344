import type { Metadata } from 'next';
import { draftOf } from '@/app/(lab)/drafts/draft-of';
import { AdjudicationForm } from '@/components/registry/adjudication-record-form';
import { KeptReasons } from '@/components/registry/kept-reasons';
import { standingSentence, TwoStatesTable } from '@/components/registry/two-states-table';
import { LinkButton } from '@/components/ui/button';
import { DefinitionList } from '@/components/ui/definition-list';
import { Notice } from '@/components/ui/notice';
import { PageHead } from '@/components/ui/page-head';
import { Ribbon } from '@/components/ui/ribbon';
import { caseCode } from '@/lib/registry/cohort';
import { ATTRIBUTIONS, OUTCOMES, TREATMENTS, VOID_REASONS } from '@/lib/registry/complication-vocabulary';
import { COMPLICATION_TYPES } from '@/lib/registry/complications';
import { SAME_PERSON } from '@/lib/registry/forms/adjudication-form';
import { COMPLICATION_LABELS } from '@/lib/registry/forms/field-labels';
import { labelOf } from '@/lib/registry/vocabulary';
import { judgeComplication } from '../actions';
import { loadComplication } from '../load';

export const metadata: Metadata = { title: 'Complication' };

interface PageProps {
  readonly params: Promise<{ id: string; complicationId: string }>;
}

export default async function Complication({ params }: PageProps) {
  const { id, complicationId } = await params;
  const { head, may, isOwn, complication, kept, adjudicationForm } = await loadComplication(
    id,
    complicationId,
  );
  const list = `/cases/${head.id}/complications`;
  const { treatment, outcome, attribution, resolvedOn } = complication;
  return (
    <>
      <PageHead
        title={`${labelOf(COMPLICATION_TYPES, complication.reported.type)} of ${caseCode(head.patientCode, head.ordinal)}`}
        lede={standingSentence(complication)}
      />
      <Ribbon
        items={[{ value: `Ablated on ${head.performedOn}` }]}
        actions={
          <>
            <LinkButton href={list}>All complications of the case</LinkButton>
            {may.change ? (
              <LinkButton href={`${list}/${complication.id}/change`}>Change the report</LinkButton>
            ) : null}
          </>
        }
      />
      {complication.isVoided ? (
        <Notice kind="plain" title="Void">
          <p>{labelOf(VOID_REASONS, complication.voidedReason)}. The entry stays as it was.</p>
        </Notice>
      ) : null}
      <h2>The two states</h2>
      <TwoStatesTable complication={complication} />
      <h2>Course</h2>
      <DefinitionList
        items={[
          { term: COMPLICATION_LABELS.treatment, detail: labelOf(TREATMENTS, treatment) },
          { term: COMPLICATION_LABELS.outcome, detail: labelOf(OUTCOMES, outcome) },
          { term: COMPLICATION_LABELS.resolvedOn, detail: resolvedOn ?? 'not recorded' },
          { term: COMPLICATION_LABELS.attribution, detail: labelOf(ATTRIBUTIONS, attribution) },
        ]}
      />
      <KeptReasons kept={kept} labels={COMPLICATION_LABELS} />
      {isOwn ? (
        <Notice kind="caution" title="Not for you to adjudicate">
          <p>{SAME_PERSON}</p>
        </Notice>
      ) : null}
      {may.adjudicate ? (
        <AdjudicationForm
          key={complication.version}
          action={judgeComplication.bind(null, head.id, complication.id)}
          values={adjudicationForm.values}
          context={adjudicationForm.context}
          draft={draftOf('adjudication', complication.id, adjudicationForm.draft)}
          cancelHref={list}
        />
      ) : null}
    </>
  );
}

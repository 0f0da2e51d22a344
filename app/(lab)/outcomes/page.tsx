import type { Metadata } from 'next';
import { SurvivalFigureBlock } from '@/components/charts/survival-figure-block';
import { LinkButton } from '@/components/ui/button';
import { EmptyState } from '@/components/ui/empty-state';
import { PageHead } from '@/components/ui/page-head';
import { Ribbon } from '@/components/ui/ribbon';
import { Spread } from '@/components/ui/spread';
import type { SearchParams } from '@/lib/analysis/outcomes/outcomes-query';
import type { OutcomesQuestion } from '@/lib/analysis/outcomes/question';
import { FindingsNotice } from './findings-notice';
import { GroupTable } from './group-table';
import { loadOutcomes } from './load';
import { OutcomesMargin } from './outcomes-margin';
import { QuestionPanels } from './question-panels';

export const metadata: Metadata = { title: 'Outcomes' };

export default async function OutcomesPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const { forms, findings, caseCount, question, view } = await loadOutcomes(await searchParams);
  return (
    <>
      <PageHead
        title="How many stay free of arrhythmia"
        lede="Time from the procedure to the first recurrence, under one endpoint definition. Every number opens the cases behind it."
      />
      <Ribbon
        items={[
          {
            label: 'Endpoint',
            value: question ? <Endpoint question={question} /> : 'none that can be computed',
          },
          { label: 'Cohort', value: view?.cohort ?? 'as chosen below' },
        ]}
      />
      <FindingsNotice findings={findings} />
      <QuestionPanels forms={forms} findings={findings} />
      {forms.definitions.length === 0 ? (
        <EmptyState title="The lab has no endpoint definition yet">
          <p>Outcomes are read under a stored definition. An administrator stores the first one.</p>
        </EmptyState>
      ) : caseCount === 0 ? (
        <EmptyState title="No procedure is registered yet">
          <p>
            Record a procedure under Cases, or import follow-up under Exchange. The curve begins with the
            first case.
          </p>
        </EmptyState>
      ) : view ? (
        <Spread margin={<OutcomesMargin view={view} />}>
          <SurvivalFigureBlock figure={view.figure} idPrefix="freedom" />
          <GroupTable view={view} />
          <p>
            <LinkButton href="/outcomes/early-recurrence">Recurrence in the first 90 days</LinkButton>
          </p>
        </Spread>
      ) : null}
    </>
  );
}

function Endpoint({ question }: { question: OutcomesQuestion }) {
  const { definition, varied, version, sentence } = question;
  return varied ? (
    <>
      Variation of {definition.name} ({version}), not a stored version: {sentence}
    </>
  ) : (
    <>
      {definition.name}, {version}: {sentence}
    </>
  );
}

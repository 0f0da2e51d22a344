import 'server-only';
import { requireActor } from '@/app/require-actor';
import { outcomesHref } from '@/lib/analysis/outcomes/case-links';
import { type CaseListView, caseListView } from '@/lib/analysis/outcomes/case-list';
import { analyseOutcomes, type OutcomesAnalysis } from '@/lib/analysis/outcomes/outcomes-analysis';
import { readOutcomesQuery, type SearchParams } from '@/lib/analysis/outcomes/outcomes-query';
import { type OutcomesView, outcomesView } from '@/lib/analysis/outcomes/outcomes-view';
import { type OutcomesQuestion, putQuestion } from '@/lib/analysis/outcomes/question';
import { type QuestionForms, questionForms } from '@/lib/analysis/outcomes/question-forms';
import { readCohort } from '@/lib/records/cohort';
import { readEndpointDefinitions } from '@/lib/records/endpoint-definitions/read';
import type { Cohort } from '@/lib/registry/cohort';
import type { Finding } from '@/lib/registry/findings';
import { RecentCache } from '@/lib/runtime/cache';
import { todayText } from '@/lib/runtime/clock';

/** What the page shows: always the forms; the answer when the question can be answered. */
export interface OutcomesPage {
  readonly forms: QuestionForms;
  readonly findings: readonly Finding[];
  readonly caseCount: number;
  readonly question: OutcomesQuestion | undefined;
  readonly view: OutcomesView | undefined;
}

/** The list of cases behind a number, or why there is none. */
export interface CaseListPage {
  readonly question: OutcomesQuestion | undefined;
  readonly findings: readonly Finding[];
  readonly list: CaseListView | undefined;
  readonly backHref: string;
}

const analyses = new RecentCache<OutcomesAnalysis>(16);
const views = new RecentCache<OutcomesView>(32);

/** Reads the page that an address asks for. Strangers are sent to sign in, and who may not see outcomes is refused, before anything is read. */
export async function loadOutcomes(params: SearchParams): Promise<OutcomesPage> {
  const { read, definitions, cohort, put, key } = await ask(params);
  const { question, definition, findings } = put;
  return {
    forms: questionForms(read, findings, definitions, definition, cohort),
    findings,
    caseCount: cohort.size,
    question,
    view: question && viewOf(key(question), question, cohort),
  };
}

/** Reads the cases behind one number of the page. */
export async function loadCaseList(params: SearchParams): Promise<CaseListPage> {
  const { read, cohort, put, key } = await ask(params);
  const { question, findings } = put;
  return {
    question,
    findings,
    list: question && caseListView(question, analysisOf(key(question), question, cohort), params),
    backHref: outcomesHref(question?.query ?? read.query),
  };
}

async function ask(params: SearchParams) {
  const actor = await requireActor('outcomes.read');
  const [definitions, cohort] = await Promise.all([readEndpointDefinitions(actor), readCohort(actor)]);
  const read = readOutcomesQuery(params);
  const put = putQuestion(read, definitions);
  const key = ({ definition, rules, query }: OutcomesQuestion) =>
    JSON.stringify([actor.labId, cohort.dataVersion, definition, rules, query]);
  return { read, definitions, cohort, put, key };
}

function analysisOf(key: string, question: OutcomesQuestion, cohort: Cohort): OutcomesAnalysis {
  const known = analyses.get(key);
  if (known) return known;
  const analysis = analyseOutcomes(cohort, question.rules, question.query.filter, question.query.grouping);
  analyses.set(key, analysis);
  return analysis;
}

function viewOf(key: string, question: OutcomesQuestion, cohort: Cohort): OutcomesView {
  const today = todayText();
  const known = views.get(`${today}${key}`);
  if (known) return known;
  const view = outcomesView(question, analysisOf(key, question, cohort), today);
  views.set(`${today}${key}`, view);
  return view;
}

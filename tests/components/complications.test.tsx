import type { ReactNode } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it, vi } from 'vitest';
import { AdjudicationForm } from '@/components/registry/adjudication-record-form';
import { NewComplicationForm } from '@/components/registry/complication-record-form';
import { ComplicationTable } from '@/components/registry/complication-table';
import { onsetWords, severityWords, wordsForHarm } from '@/components/registry/complication-words';
import { HistoryTable } from '@/components/registry/history-table';
import { OpenComplicationTable } from '@/components/registry/open-complication-table';
import { ReadmissionTable } from '@/components/registry/readmission-table';
import { SafetyChecks } from '@/components/registry/safety-checks';
import { standingSentence, TwoStatesTable } from '@/components/registry/two-states-table';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import { HARMS } from '@/lib/registry/complications';
import { DEFAULT_SLOTS, planOf } from '@/lib/registry/follow-up-schedule';
import { harmTicks } from '@/lib/registry/forms/complication-entries';
import { safetyClockOf } from '@/lib/registry/safety-clock';

vi.mock('next/navigation', () => ({ useRouter: () => ({ push: () => undefined }) }));

const render = (node: ReactNode) => renderToStaticMarkup(node);
const textOf = (markup: string) =>
  markup
    .replaceAll(/<[^>]+>/g, ' ')
    .replaceAll('&#x27;', "'")
    .replaceAll(/\s+/g, ' ');
const performedOn = calendarDay('2024-03-01');
const at = (day: number) => addDays(performedOn, day);
const reported = { type: 'haematoma', onsetOn: at(1), harms: [], severity: 'minor' } as const;
const found = {
  type: 'pseudo-aneurysm',
  onsetOn: at(2),
  harms: ['intervention'],
  severity: 'major',
} as const;
const line = {
  id: 'a',
  performedOn,
  reported,
  reportedBy: 'C-01',
  adjudication: null,
  adjudicatedBy: null,
  adjudicatedAt: null,
  isVoided: false,
  voidedReason: null,
  treatment: null,
  outcome: null,
  resolvedOn: null,
};
const judged = { adjudicatedBy: 'P-01', adjudicatedAt: '2024-04-01T10:00:00.000Z' };
const table = (over: object, diedOn: typeof performedOn | null = null) =>
  textOf(render(<ComplicationTable caseId="c" complications={[{ ...line, ...over }]} diedOn={diedOn} />));

describe('the table of complications', () => {
  it('counts a report until it is adjudicated, and says that it waits', () => {
    const text = table({});
    expect(text).toContain('Groin haematoma, minor');
    expect(text).toContain('to adjudicate');
    expect(text).toContain('not yet resolved');
    expect(text).toContain(`day 1, ${at(1)}`);
  });

  it('counts what was adjudicated, and keeps the report in sight', () => {
    const text = table({ adjudication: { verdict: 'reclassified', facts: found }, ...judged });
    expect(text).toContain('Pseudo-aneurysm, major');
    expect(text).toContain('Led to: Intervention');
    expect(text).toContain('reclassified by P-01');
    expect(text).toContain(`Reported: Groin haematoma, minor, day 1, ${at(1)}`);
  });

  it('keeps the refuted and the void, which count as nothing', () => {
    const refuted = table({ adjudication: { verdict: 'refuted' }, ...judged });
    expect(refuted).toContain('nothing: refuted');
    expect(refuted).toContain('Reported: Groin haematoma');
    const voided = table({ isVoided: true, voidedReason: 'entered-twice' });
    expect(voided).toContain('nothing: void');
    expect(voided).toContain('Entered twice; it was Groin haematoma, minor');
    for (const text of [refuted, voided]) expect(text).not.toContain('not yet resolved');
  });

  it('marks a late onset, and asks nobody about the dead', () => {
    expect(table({ reported: { ...reported, type: 'stroke', onsetOn: at(91) } })).toContain('day 91, late');
    expect(table({ reported: { ...reported, type: 'stroke', onsetOn: at(90) } })).not.toContain('late');
    expect(table({}, at(200))).not.toContain('not yet resolved');
  });

  it('says so when there is none', () => {
    const none = render(<ComplicationTable caseId="c" complications={[]} diedOn={null} />);
    expect(textOf(none)).toContain('No complication is reported.');
  });
});

describe('the two states', () => {
  const text = (over: object) => textOf(render(<TwoStatesTable complication={{ ...line, ...over }} />));

  it('stand side by side', () => {
    const both = text({ adjudication: { verdict: 'reclassified', facts: found }, ...judged });
    expect(both).toContain('Groin haematoma Pseudo-aneurysm');
    expect(both).toContain('C-01 reclassified by P-01, 2024-04-01');
    expect(both).toContain('Major: intervention.');
  });

  it('show a severity that a person decided with the one of the rule', () => {
    expect(severityWords({ ...reported, severity: 'major' })).toBe(
      'Major, as decided by a person. By the rule: Minor: no harm that makes this complication major is recorded.',
    );
    expect(severityWords({ ...reported, type: 'stroke', severity: 'major' })).toBe(
      'Major. Stroke is major by definition.',
    );
  });

  it('are one in the rates', () => {
    expect(standingSentence(line)).toContain('as reported, until it is adjudicated: Groin haematoma, minor');
    const confirmed = { ...line, adjudication: { verdict: 'reclassified', facts: found } } as const;
    expect(standingSentence(confirmed)).toContain('as adjudicated: Pseudo-aneurysm, major');
    expect(standingSentence({ ...line, adjudication: { verdict: 'refuted' } })).toContain('counts nowhere');
    expect(standingSentence({ ...line, isVoided: true })).toContain('counts nowhere');
  });
});

describe('the forms', () => {
  const context = {
    performedOn,
    today: at(100),
    diedOn: null,
    nextPerformedOn: null,
    others: [],
    judgedReport: null,
  };
  const action = async () => ({ kind: 'unauthenticated' }) as const;
  const draft = {
    form: 'complication-new',
    subject: 'c',
    stored: null,
    keep: async () => ({ kind: 'notKept', message: '' }) as const,
    drop: async () => undefined,
  } as const;

  it('offer every harm as a box of its own and the severity of the rule first', () => {
    const markup = render(
      <NewComplicationForm action={action} context={context} draft={draft} cancelHref="/" />,
    );
    expect(markup.match(/type="checkbox"/g)).toHaveLength(HARMS.length);
    expect(markup).toMatch(
      /<input[^>]*type="radio"[^>]*name="severity"[^>]*checked[^>]*value="by-rule"|value="by-rule"[^>]*checked/,
    );
    const ids = [...markup.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('ask what it was instead only when it is reclassified, and for a reason only when a verdict is changed', () => {
    const form = (verdict: string, isAdjudicated: boolean) =>
      textOf(
        render(
          <AdjudicationForm
            action={action}
            values={{
              verdict,
              type: 'haematoma',
              onsetOn: at(1),
              harms: harmTicks(),
              severity: 'by-rule',
              version: 1,
              seenReport: '',
              reason: '',
            }}
            context={{
              ...context,
              reported,
              reportedById: 'a',
              judgeId: 'b',
              isAdjudicated,
            }}
            draft={draft}
            cancelHref="/"
          />,
        ),
      );
    expect(form('', false)).not.toContain('as adjudicated');
    expect(form('reclassified', false)).toContain('Complication, as adjudicated');
    expect(form('confirmed', false)).not.toContain('Reason for the change');
    expect(form('confirmed', true)).toContain('Reason for the change');
  });
});

it('the list of Today tells a person which report is their own', () => {
  const open = { ...line, procedureId: 'p', caseCode: 'P-1/1', reportedById: 'me' };
  const text = (viewerId: string, toDo: 'adjudicate' | 'follow') =>
    textOf(
      render(
        <OpenComplicationTable
          caption="x"
          complications={[open]}
          today={at(11)}
          toDo={toDo}
          viewerId={viewerId}
        />,
      ),
    );
  expect(text('me', 'adjudicate')).toContain('you: somebody else has to adjudicate');
  expect(text('other', 'adjudicate')).toContain('C-01');
  expect(text('other', 'follow')).toContain('10 days');
});

it('readmissions within 30 days are flagged, void ones are not', () => {
  const stay = {
    id: 'r',
    admittedOn: at(32),
    dischargedOn: null,
    cause: 'arrhythmia',
    timing: { days: 30, from: 'discharge', isEarly: true },
    isVoided: false,
    voidedReason: null,
  } as const;
  const text = (over: object) =>
    textOf(render(<ReadmissionTable caseId="c" readmissions={[{ ...stay, ...over }]} mayChange />));
  expect(text({})).toContain('within 30 days');
  expect(text({})).toContain('30 days after the discharge');
  expect(text({ timing: { days: 31, from: 'procedure', isEarly: false } })).not.toContain('within');
  const voided = text({ isVoided: true, voidedReason: 'not-meant' });
  expect(voided).toContain('void, counts nowhere');
  expect(voided).not.toMatch(/within|Change the/);
});

it('safety checks are told apart by mark and words, and lead to their visit', () => {
  const visits = [
    { slot: 'day-7', visitedOn: at(8) },
    { slot: 'day-60', visitedOn: at(61) },
  ];
  const clocked = {
    performedOn,
    plan: planOf(performedOn, DEFAULT_SLOTS),
    visits,
    diedOn: null,
    consentWithdrawnOn: null,
    transferredOn: null,
    nextPerformedOn: null,
  };
  const markup = (day: number, mayEnter: boolean) =>
    render(<SafetyChecks caseId="c" safety={safetyClockOf(clocked, at(day))} mayEnter={mayEnter} />);
  const text = textOf(markup(85, true));
  expect(text).toContain('Not safety-complete yet');
  expect(text).toContain(`Day 7 asked on ${at(8)}`);
  expect(text).toContain(`Day 30 missed; made good on ${at(61)}`);
  expect(text).toContain(`Day 90 due on ${at(90)}, in its window`);
  expect(markup(85, true)).toContain('/cases/c/visits/new?slot=day-90');
  expect(markup(85, false)).not.toContain('visits/new');
  expect(textOf(markup(130, false))).toContain('No check of day 90.');
});

it('the history reads its codes as words and names every field', () => {
  const fields = {
    type: 'haematoma',
    harms: '["transfusion","stay-over-48h"]',
    severity: 'major',
    onsetOn: '2024-03-02',
    treatment: 'transfusion',
    outcome: 'not-recovered',
    attribution: 'access',
    reportedById: 'C-01',
    adjudicatedVerdict: 'reclassified',
    adjudicatedType: 'av-fistula',
    adjudicatedSeverity: 'minor',
    adjudicatedHarms: '[]',
    adjudicatedOnsetOn: '2024-03-03',
    adjudicatedById: 'P-01',
    voidedReason: 'entered-twice',
  };
  const changes = Object.entries(fields).map(([field, to]) => ({ field, from: '', to }));
  const entry = { seq: '1', at: '2024-04-01T10:00:00Z', who: 'P-01', reason: 'adjudicated', changes };
  const text = textOf(
    render(
      <HistoryTable
        caseId="c"
        entries={[
          { ...entry, entity: 'complications' },
          {
            ...entry,
            seq: '2',
            entity: 'readmissions',
            changes: [{ field: 'cause', from: 'unknown', to: 'planned' }],
          },
        ]}
      />,
    ),
  );
  for (const words of [
    'Complication: Groin haematoma',
    'What it led to: Transfusion, Hospital more than 48 h',
    'Severity: Major',
    'Treatment: Transfusion',
    'Outcome: Not recovered yet',
    'Put down to: Vascular access',
    'Verdict: Reclassified',
    'Complication, as adjudicated: Arteriovenous fistula',
    'What it led to, as adjudicated: nothing',
    'Why the entry is void: Entered twice',
    'Cause of the readmission: Not known to Planned',
  ]) {
    expect(text).toContain(words);
  }
  for (const field of Object.keys(fields)) expect(text).not.toContain(`${field}:`);
});

it('words of conflicts: the report that changed, a tick, nothing', () => {
  expect(wordsForHarm('seenReport', 'tia 2024-03-02 minor')).toBe('TIA, 2024-03-02, minor');
  expect(wordsForHarm('harms.death', true)).toBe('yes');
  expect(wordsForHarm('severity', 'by-rule')).toBe('As the rule says');
  expect(wordsForHarm('outcome', '')).toBe('not recorded');
  expect(onsetWords(performedOn, at(0))).toBe(`day 0, ${performedOn}`);
});

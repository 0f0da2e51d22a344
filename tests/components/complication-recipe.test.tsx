import { renderToStaticMarkup } from 'react-dom/server';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { NewComplicationForm } from '@/components/registry/complication-record-form';
import { ComplicationTable } from '@/components/registry/complication-table';
import { HistoryTable } from '@/components/registry/history-table';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import { standingOf } from '@/lib/registry/complication-standing';
import { COMPLICATION_TYPES, type ComplicationType, severityOf } from '@/lib/registry/complications';
import { checkComplicationAgainstCase } from '@/lib/registry/forms/complication-checks';
import { harmTicks } from '@/lib/registry/forms/complication-entries';
import { complicationFormSchema, emptyComplicationForm } from '@/lib/registry/forms/complication-form';

vi.mock('next/navigation', () => ({ useRouter: () => ({ push: () => undefined }) }));

/** The recipe "a complication type = one entry", tried: this entry is added to the list while the tests run, and nothing else. */
const ADDED: ComplicationType = {
  code: 'subclavian-test',
  label: 'Invented for this test',
  definition: 'An entry that only this test knows.',
  severityRule: { kind: 'by-harm', also: ['transfusion'] },
  usualWindowDays: { from: 2, to: 9 },
  icd10: null,
};
// The list is read-only to everybody but this test.
const change = Array.prototype;
beforeAll(() => void change.push.call(COMPLICATION_TYPES, ADDED));
afterAll(() => void change.pop.call(COMPLICATION_TYPES));

const performedOn = calendarDay('2024-03-01');
const context = {
  performedOn,
  today: calendarDay('2026-01-01'),
  diedOn: null,
  nextPerformedOn: null,
  others: [],
  judgedReport: null,
};

const draft = {
  form: 'complication-new',
  subject: 'c',
  stored: null,
  keep: async () => ({ kind: 'notKept', message: '' }) as const,
  drop: async () => undefined,
} as const;

/** One type through form, checks, severity, standing, table and history. */
function walk({ code, label, usualWindowDays }: ComplicationType) {
  const onsetOn = addDays(performedOn, usualWindowDays.from);
  const typed = { ...emptyComplicationForm, type: code, onsetOn };
  const form = renderToStaticMarkup(
    <NewComplicationForm
      action={async () => ({ kind: 'unauthenticated' })}
      context={context}
      draft={draft}
      cancelHref="/"
    />,
  );
  const parsed = complicationFormSchema.parse(typed);
  const late = complicationFormSchema.parse({
    ...typed,
    onsetOn: addDays(performedOn, usualWindowDays.to + 1),
  });
  const { severity } = severityOf(parsed.type, parsed.harms);
  const reported = { type: parsed.type, onsetOn, harms: parsed.harms, severity };
  const line = {
    id: code,
    performedOn,
    reported,
    reportedBy: null,
    adjudication: null,
    adjudicatedBy: null,
    isVoided: false,
    voidedReason: null,
    treatment: null,
    outcome: null,
    resolvedOn: null,
  };
  const table = renderToStaticMarkup(<ComplicationTable caseId="c" complications={[line]} diedOn={null} />);
  const entry = {
    seq: '1',
    at: '2024-04-01T10:00:00Z',
    who: 'C-01',
    entity: 'complications',
    reason: 'entered',
  };
  const history = renderToStaticMarkup(
    <HistoryTable caseId="c" entries={[{ ...entry, changes: [{ field: 'type', from: '', to: code }] }]} />,
  );
  return {
    isOffered: form.includes(`<option value="${code}">${label}</option>`),
    usual: checkComplicationAgainstCase(parsed, context).filter(({ field }) => field === 'onsetOn'),
    late: checkComplicationAgainstCase(late, context).map(({ field }) => field),
    counts: standingOf(line),
    table,
    history,
  };
}

describe('every complication of the list', () => {
  it.each(COMPLICATION_TYPES.map((type) => [type.code, type] as const))('%s is everywhere', (code, type) => {
    const seen = walk(type);
    expect(seen.isOffered).toBe(true);
    expect(seen.usual).toEqual([]);
    expect(seen.late).toContain('onsetOn');
    expect(seen.counts).toMatchObject({ kind: 'counts', facts: { type: code } });
    expect(seen.table).toContain(`${type.label}, `);
    expect(seen.history).toContain(type.label);
  });
});

it('an entry added to the list is everywhere, without any other change', () => {
  const seen = walk(ADDED);
  expect(seen.isOffered).toBe(true);
  expect(seen.usual).toEqual([]);
  expect(seen.late).toContain('onsetOn');
  expect(seen.table).toContain('Invented for this test, minor');
  expect(seen.history).toContain('Invented for this test');
  const typed = {
    ...emptyComplicationForm,
    type: ADDED.code,
    onsetOn: '2024-03-04',
    harms: harmTicks(['transfusion']),
  };
  const { type, harms } = complicationFormSchema.parse(typed);
  expect(severityOf(type, harms)).toEqual({ severity: 'major', reason: 'Major: transfusion.' });
});

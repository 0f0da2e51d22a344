import fc from 'fast-check';
import type { ReactNode } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { type FirstRunInput, firstRunSchema } from '@/app/(public)/first-run/schema';
import { CheckField } from '@/components/forms/check-field';
import { ChoiceField } from '@/components/forms/choice-field';
import { ConflictPanel } from '@/components/forms/conflict-panel';
import { DayField } from '@/components/forms/day-field';
import { spellDay, tidyDay } from '@/components/forms/day-text';
import { Field } from '@/components/forms/field';
import { FindingsSummary } from '@/components/forms/findings-summary';
import { findingsOfErrors } from '@/components/forms/form-findings';
import { newIdempotencyKey } from '@/components/forms/idempotency-key';
import { NumberField } from '@/components/forms/number-field';
import { RecordForm } from '@/components/forms/record-form';
import { recordFormResolver } from '@/components/forms/record-form-resolver';
import { SelectField } from '@/components/forms/select-field';
import { fromEpochDay, isCalendarDay } from '@/lib/registry/calendar-day';
import { findingsOfZod, refusal, warning } from '@/lib/registry/findings';
import { emptyVisitForm, visitFormSchema } from '@/lib/registry/forms/visit-form';
import { RHYTHMS, VISIT_MODES } from '@/lib/registry/vocabulary';

vi.mock('next/navigation', () => ({ useRouter: () => ({ push: () => undefined }) }));

const render = (node: ReactNode) => renderToStaticMarkup(node);
const idsIn = (markup: string) => [...markup.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]);

describe('Field', () => {
  const markup = render(
    <Field
      id="x-la"
      name="la"
      label="Left atrium"
      unit="mm"
      hint="antero-posterior"
      error="Left atrium: 400 mm is not possible."
      warning="unusual"
      required
    >
      {(control) => <input {...control} />}
    </Field>,
  );

  it('joins label, error, warning, unit and hint to its control, the error first', () => {
    expect(markup).toContain('for="x-la"');
    const described = /aria-describedby="([^"]+)"/.exec(markup)?.[1]?.split(' ') ?? [];
    expect(described).toEqual(['x-la-error', 'x-la-warning', 'x-la-unit', 'x-la-hint']);
    for (const id of described) expect(idsIn(markup)).toContain(id);
    expect(markup).toContain('aria-invalid="true"');
    expect(markup).toContain('aria-required="true"');
  });

  it('says nothing about a field that is in order', () => {
    const plain = render(
      <Field id="y" name="y" label="Mode">
        {(control) => <input {...control} />}
      </Field>,
    );
    expect(plain).not.toMatch(/aria-|data-invalid|needed/);
  });
});

describe('RecordForm before the scripts have taken over', () => {
  const markup = render(
    <RecordForm
      label="Visit"
      schema={visitFormSchema}
      defaultValues={emptyVisitForm}
      action={async () => ({ kind: 'unauthenticated' })}
    >
      <DayField name="visitedOn" label="Visit day" today="2026-11-25" />
      <ChoiceField name="mode" label="Mode" choices={VISIT_MODES} />
      <SelectField name="rhythm" label="Rhythm now" choices={RHYTHMS} />
      <NumberField name="recordings.0.hours" label="Length" unit="h" />
      <CheckField name="drugsReviewed" label="Drugs were reviewed" />
    </RecordForm>,
  );

  it('keeps its button shut and never puts typed values into an address', () => {
    const save = markup.match(/<button[^>]*type="submit"[^>]*>/g) ?? [];
    expect(save).toHaveLength(1);
    expect(save[0]).toContain('disabled=""');
    expect(markup).toMatch(/<form[^>]*method="post"/);
  });

  it('labels every control, with ids that occur once', () => {
    const ids = idsIn(markup);
    expect(new Set(ids).size).toBe(ids.length);
    const controls = markup.match(/<(input|select)[^>]*>/g) ?? [];
    expect(controls).toHaveLength(1 + VISIT_MODES.length + 1 + 1 + 1);
    for (const control of controls.filter((tag) => !tag.includes('type="radio"'))) {
      const id = / id="([^"]+)"/.exec(control)?.[1];
      expect(markup).toContain(`for="${id}"`);
    }
    expect(markup).toContain('<legend');
  });

  it('draws stored values from the start', () => {
    const stored = render(
      <RecordForm
        label="Visit"
        schema={visitFormSchema}
        defaultValues={{
          ...emptyVisitForm,
          visitedOn: '2026-05-14',
          mode: 'phone',
          rhythm: 'af',
          drugsReviewed: true,
        }}
        action={async () => ({ kind: 'unauthenticated' })}
      >
        <DayField name="visitedOn" label="Visit day" />
        <ChoiceField name="mode" label="Mode" choices={VISIT_MODES} />
        <SelectField name="rhythm" label="Rhythm now" choices={RHYTHMS} />
        <CheckField name="drugsReviewed" label="Drugs were reviewed" />
      </RecordForm>,
    );
    expect(stored).toContain('value="2026-05-14"');
    expect(stored).toContain('Thursday 14 May 2026');
    expect(stored).toMatch(/<input[^>]*checked=""[^>]*value="phone"|<input[^>]*value="phone"[^>]*checked=""/);
    expect(stored).toContain('<option value="af" selected="">');
    expect(stored.match(/checked=""/g)).toHaveLength(2);
  });

  it('names the format of a day and lets no wheel change a number', () => {
    expect(markup).toContain('YYYY-MM-DD, for example 2026-05-14');
    expect(markup).not.toMatch(/type="(number|date)"/);
    expect(markup).toContain('inputMode="numeric"');
  });
});

describe('recordFormResolver', () => {
  const options = { fields: {}, shouldUseNativeValidation: false };
  const words = async (values: Record<string, unknown>) => {
    const result = await recordFormResolver(visitFormSchema, () => [])(
      { ...emptyVisitForm, ...values },
      undefined,
      options,
    );
    return findingsOfErrors(result.errors);
  };

  it('says at once what the server would say, word for word', async () => {
    const values = { visitedOn: '31.12.2025', drugs: [{ drug: '', startedOn: '2025-02-30', stoppedOn: '' }] };
    const parsed = visitFormSchema.safeParse({ ...emptyVisitForm, ...values });
    const server = parsed.success ? [] : findingsOfZod(parsed.error);
    const here = await words(values);
    expect(server.length).toBeGreaterThan(3);
    const order = (list: typeof here) => list.map((finding) => `${finding.field}: ${finding.message}`).sort();
    expect(order(here)).toEqual(order(server));
  });

  it('shows what concerns the whole form as a finding without a field', async () => {
    const found = await words({ surname: 'x' });
    expect(found.filter((finding) => finding.field === '')).toHaveLength(1);
  });

  it('asks the further check only once the schema is content; its refusals stop, its warnings do not', async () => {
    const schema = z.strictObject({ day: z.string().min(1, 'Day is missing.') });
    const check = vi.fn(({ day }: { day: string }) =>
      day === 'late' ? [refusal('day', 'Day is after today.')] : [warning('day', 'Day is unusual.')],
    );
    const resolve = (day: string) => recordFormResolver(schema, check)({ day }, undefined, options);
    expect(findingsOfErrors((await resolve('')).errors)).toEqual([refusal('day', 'Day is missing.')]);
    expect(check).not.toHaveBeenCalled();
    expect(findingsOfErrors((await resolve('late')).errors)).toEqual([refusal('day', 'Day is after today.')]);
    expect(await resolve('odd')).toEqual({ values: { day: 'odd' }, errors: {} });
  });
});

describe('findings at once', () => {
  it('counts what must be mended, links what has a field, and says what has been mended since', () => {
    const markup = render(
      <FindingsSummary
        findings={[
          { ...refusal('', 'The patient was erased.'), group: '' },
          { ...refusal('recordings.1.hours', 'Hours are missing.'), group: 'Recording 2' },
          { ...warning('la', 'Left atrium: 80 mm is unusual.'), group: '' },
        ]}
        mended={new Set(['recordings.1.hours'])}
        idOf={(field) => `f-${field}`}
        onGo={() => undefined}
        attempt={1}
        keep={null}
      />,
    );
    expect(markup).toContain('Not saved: 2 things have to be mended.');
    expect(markup.match(/<a /g)).toHaveLength(2);
    expect(markup).toMatch(
      /Recording 2: <a href="#f-recordings.1.hours">Hours are missing.<\/a><strong> Mended\./,
    );
    expect(markup).toContain('(unusual, may stay)');
    // The focus moves here, which reads it once: a live region would read it twice.
    expect(markup).not.toMatch(/role="(alert|status)"/);
  });

  it('follows errors into lists and not into nodes of the page', () => {
    const node = { message: 'not an error' };
    const tree = {
      recordings: { root: { message: 'At most 20.' }, 0: { hours: { message: 'Hours.', ref: node } } },
    };
    const found = findingsOfErrors(tree).map((finding) => `${finding.field}=${finding.message}`);
    expect(found.sort()).toEqual(['recordings.0.hours=Hours.', 'recordings=At most 20.']);
  });
});

describe('ConflictPanel', () => {
  const markup = render(
    <ConflictPanel
      fields={[
        { field: 'rhythm', label: 'Rhythm', yours: 'af', stored: null },
        { field: 'drugsReviewed', label: 'Drugs reviewed', yours: true, stored: false },
      ]}
      wordsFor={(field, value) => (field === 'rhythm' ? 'AF' : value === true ? 'yes' : 'no')}
      onResolve={() => undefined}
    />,
  );

  it('shows both values of each field in words and chooses for nobody', () => {
    expect(markup.replaceAll(/<[^>]*>/g, '|')).toMatch(
      /Rhythm\|.*\|AF\|.*keep mine.*\|nothing\|.*take stored/,
    );
    expect(markup.match(/type="radio"/g)).toHaveLength(4);
    expect(markup).not.toContain('checked');
  });

  it('keeps the two choices of a field in one group', () => {
    const names = [...markup.matchAll(/name="([^"]+)"/g)].map((match) => match[1]);
    expect(names[0]).toBe(names[1]);
    expect(new Set(names).size).toBe(2);
  });
});

describe('days as typed', () => {
  it.each([
    ['20260514', '2026-05-14'],
    ['2026/5/14', '2026-05-14'],
    [' 2026 05 14 ', '2026-05-14'],
    ['2026.5.4', '2026-05-04'],
    ['03/04/2026', '03/04/2026'],
    ['14 May 2026', '14 May 2026'],
    ['2026-05', '2026-05'],
    ['', ''],
  ])('%s becomes %s', (typed, tidied) => {
    expect(tidyDay(typed)).toBe(tidied);
  });

  it('are read back in words as the platform spells them', () => {
    const spelling = new Intl.DateTimeFormat('en-GB', { dateStyle: 'full', timeZone: 'UTC' });
    fc.assert(
      fc.property(fc.integer({ min: -60_000, max: 80_000 }), (epochDay) => {
        const day = fromEpochDay(epochDay);
        expect(spellDay(day)).toBe(spelling.format(new Date(`${day}T00:00:00Z`)).replace(',', ''));
        expect(tidyDay(day.replaceAll('-', ''))).toBe(day);
      }),
    );
    expect(spellDay('2026-02-30')).toBe('');
  });

  it('are never guessed: what tidying changes was written year first', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom('0', '1', '2', '9', '-', '/', '.', ' ') }), (typed) => {
        const tidied = tidyDay(typed);
        if (tidied === typed) return;
        expect(typed.trim().slice(0, 4)).toBe(tidied.slice(0, 4));
        if (isCalendarDay(tidied)) expect(tidied.replaceAll('-', '')).toMatch(/^\d{8}$/);
      }),
    );
  });
});

describe('newIdempotencyKey', () => {
  it('makes version 4 keys that the server accepts, with and without the browser’s own', () => {
    const uuid = z.uuid({ version: 'v4' });
    const own = vi.spyOn(crypto, 'randomUUID');
    expect(uuid.safeParse(newIdempotencyKey()).success).toBe(true);
    expect(own).toHaveBeenCalledTimes(1);
    own.mockRestore();
    vi.stubGlobal('crypto', { getRandomValues: crypto.getRandomValues.bind(crypto) });
    const keys = Array.from({ length: 200 }, newIdempotencyKey);
    vi.unstubAllGlobals();
    for (const key of keys) expect(uuid.safeParse(key).success).toBe(true);
    expect(new Set(keys).size).toBe(200);
  });
});

describe('first run', () => {
  const good: FirstRunInput = {
    token: 't',
    signInName: ' Lab.Admin ',
    code: 'a-01',
    password: 'four quiet words here',
    passwordAgain: 'four quiet words here',
  };
  const fieldsRefused = (change: Partial<FirstRunInput>) => {
    const result = firstRunSchema.safeParse({ ...good, ...change });
    return result.success ? [] : findingsOfZod(result.error).map((finding) => finding.field);
  };

  it('tidies name and code and takes any characters in a password', () => {
    expect(firstRunSchema.parse(good)).toMatchObject({ signInName: 'lab.admin', code: 'A-01' });
    expect(fieldsRefused({ password: 'äöü 漢字 ~~~~~~~~', passwordAgain: 'äöü 漢字 ~~~~~~~~' })).toEqual([]);
  });

  it.each([
    [{ password: '14characters14', passwordAgain: '14characters14' }, ['password']],
    [{ passwordAgain: 'four quiet words there' }, ['passwordAgain']],
    [{ password: 'lab.admin and more', passwordAgain: 'lab.admin and more' }, ['password']],
    [{ signInName: 'a b' }, ['signInName']],
    [{ code: 'Admin' }, ['code']],
    [{ token: '' }, ['token']],
  ])('refuses %j at its field', (change, fields) => {
    expect(fieldsRefused(change)).toEqual(fields);
  });
});

import fc from 'fast-check';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it, vi } from 'vitest';
import type { DraftKeeping } from '@/components/forms/use-draft';
import { choiceOfKey, choicesOfCell } from '@/components/lesions/cell-choices';
import { commandOf, type Direction, gridRows, moveInGrid } from '@/components/lesions/grid-moves';
import { LesionAccountNotes } from '@/components/lesions/lesion-account-notes';
import { LesionRecordForm } from '@/components/lesions/lesion-record-form';
import { LesionTable } from '@/components/lesions/lesion-table';
import { Schematic } from '@/components/lesions/schematic';
import { layOut } from '@/components/lesions/schematic-layout';
import type { LesionContext } from '@/lib/registry/forms/lesion-checks';
import { ELEMENT_FIELDS } from '@/lib/registry/forms/lesion-fields';
import type { StoredLesions } from '@/lib/registry/forms/lesion-values';
import { accountOf } from '@/lib/registry/lesion-account';
import { offeredStructures } from '@/lib/registry/lesion-anatomy';
import { type LesionElement, shownSet } from '@/lib/registry/lesion-set';
import { STRUCTURES, segmentsOf, VEIN_RINGS } from '@/lib/registry/lesion-vocabulary';
import { ABATED, element, line, OPEN, ring, USUAL } from '../registry/lesion-sets';

vi.mock('next/navigation', () => ({ useRouter: () => ({ push: () => undefined }) }));

const STORED: StoredLesions = {
  veins: USUAL,
  measuredInRhythm: 'sinus',
  settledStrategy: null,
  entranceBlock: 'all',
  exitBlock: null,
  waitingMinutes: 20,
  drugChallenge: null,
  drugChallengeResult: null,
  elements: [
    ...ring('left-pair', ABATED, { 'anterior-carina': OPEN }),
    ...ring('right-pair'),
    line('roof', { block: 'none' }),
  ],
};
const DRAFT: DraftKeeping = {
  form: 'lesions',
  subject: '00000000-0000-4000-8000-000000000000',
  stored: null,
  keep: async () => ({ kind: 'notKept', message: '' }),
  drop: async () => undefined,
};
const CASE: LesionContext = {
  ordinal: 1,
  energy: 'radiofrequency',
  deviceType: null,
  intendedStrategy: 'wide-encircling',
  needsReason: true,
  earlier: [],
};
const shown = (elements: readonly LesionElement[], veins: readonly string[] = USUAL) =>
  shownSet({ energy: 'radiofrequency', veins, elements });

describe('the schematic', () => {
  const anatomies = fc.subarray(VEIN_RINGS.map(({ code }) => code));

  it('draws every segment of every recorded ring and every line once, with its state in words', () => {
    const { parts } = layOut(shown(STORED.elements));
    expect(parts).toHaveLength(16 + 6);
    const words = parts.find(({ segment }) => segment.segment === 'anterior-carina')?.label.lines;
    expect(words).toEqual(['anterior carina', 'still open']);
  });

  it('draws the rings of single veins where nothing is recorded of a pair, and the pairs where nothing is at all', () => {
    const structures = (elements: readonly LesionElement[], veins?: readonly string[]) => [
      ...new Set(layOut(shown(elements, veins)).parts.map(({ segment }) => segment.structure)),
    ];
    expect(structures([])).toContain('left-pair');
    expect(structures([])).not.toContain('lspv');
    expect(structures(ring('lspv'))).toEqual(expect.arrayContaining(['lspv', 'right-pair']));
    expect(structures([], ['lcpv', 'rspv', 'ripv'])).toContain('lcpv');
    expect(structures([], ['lcpv', 'rspv', 'ripv'])).not.toContain('carina-left');
  });

  it('keeps its labels apart and inside, whatever the anatomy and whatever was ringed', () => {
    const sizeOf = (text: string, isFirst: boolean) => text.length * (isFirst ? 7.3 : 6.9);
    const boxesOf = ({ parts, titles }: ReturnType<typeof layOut>) =>
      [...parts.map(({ label }) => label), ...titles].map(({ x, y, anchor, lines }) => {
        const width = Math.max(...lines.map((text, i) => sizeOf(text, i === 0)));
        const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
        return { left, right: left + width, top: y - 11, bottom: y + (lines.length - 1) * 16.5 + 3, lines };
      });
    fc.assert(
      fc.property(anatomies, fc.infiniteStream(fc.boolean()), fc.boolean(), (veins, take, isRepeat) => {
        const offered = offeredStructures(veins);
        const done: LesionElement[] = offered
          .filter((code) => take.next().value && segmentsOf(code).length > 1)
          .flatMap((code) => ring(code, { ...ABATED, ...(isRepeat ? { reconnected: true } : {}) }));
        const layout = layOut(shown(done, veins));
        const boxes = boxesOf(layout);
        for (const [i, one] of boxes.entries()) {
          expect(one.left, one.lines.join()).toBeGreaterThanOrEqual(0);
          expect(one.right, one.lines.join()).toBeLessThanOrEqual(layout.width);
          expect(one.top).toBeGreaterThanOrEqual(0);
          expect(one.bottom).toBeLessThanOrEqual(layout.height);
          for (const other of boxes.slice(i + 1)) {
            const isApart =
              one.right <= other.left ||
              other.right <= one.left ||
              one.bottom <= other.top ||
              other.bottom <= one.top;
            expect(isApart, `${one.lines.join('/')} touches ${other.lines.join('/')}`).toBe(true);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  it('tells states apart without colour: a frame or pattern of its own for each', () => {
    const elements = [
      ...ring('left-pair', ABATED, {
        superior: OPEN,
        'antero-superior': { state: 'not-recorded' },
        'anterior-carina': { state: 'not-done' },
        'antero-inferior': { state: 'not-applicable', stateReason: 'outside-plan' },
        inferior: { amplitudeBeforeUv: 50 },
        'postero-inferior': { state: 'not-done', reconnected: false },
        'posterior-carina': { ...ABATED, reconnected: true },
      }),
    ];
    const layout = layOut(shown(elements));
    const markup = renderToStaticMarkup(<Schematic layout={layout} description="A lesion set." />);
    const looks = [...markup.matchAll(/data-look="([^"]+)" data-place="left-pair/g)].map((match) => match[1]);
    expect(new Set(looks)).toEqual(
      new Set(['still-open', 'not-recorded', 'not-done', 'not-applicable', 'unjudged', 'held', 'abated']),
    );
    expect(markup).toContain('role="img" aria-label="A lesion set."');
    expect(markup).toContain('reconnected');
    expect(markup).not.toMatch(/#[0-9a-f]{6}/);
  });
});

describe('keys in the table', () => {
  const plain = { shiftKey: false, altKey: false, isCommand: false };
  const whole = { isAtStart: true, isAtEnd: true };

  it.each([
    ['Enter', {}, { kind: 'move', direction: 'down' }],
    ['Enter', { shiftKey: true }, { kind: 'move', direction: 'up' }],
    ['ArrowLeft', {}, { kind: 'move', direction: 'left' }],
    ['PageDown', {}, { kind: 'move', direction: 'next-structure' }],
    ['Escape', {}, { kind: 'leave' }],
    ['d', { isCommand: true }, { kind: 'fill-down' }],
    ['D', { isCommand: true }, { kind: 'fill-down' }],
    ['Enter', { isCommand: true }, { kind: 'save' }],
    ['d', {}, null],
    ['s', { isCommand: true }, null],
    ['ArrowDown', { altKey: true }, null],
    ['ArrowRight', { shiftKey: true }, null],
    ['Tab', {}, null],
  ])('%s with %j', (key, held, command) => {
    expect(commandOf({ ...plain, ...held, key }, whole)).toEqual(command);
  });

  it('leave the caret alone inside a text', () => {
    const inside = { isAtStart: false, isAtEnd: false };
    expect(commandOf({ ...plain, key: 'ArrowLeft' }, inside)).toBeNull();
    expect(commandOf({ ...plain, key: 'ArrowRight' }, inside)).toBeNull();
    expect(commandOf({ ...plain, key: 'ArrowDown' }, inside)).toEqual({ kind: 'move', direction: 'down' });
  });

  it('lead over rows that lack a column, from ring to ring, and stop at the edge', () => {
    const rows = gridRows(['left-pair', 'roof'], true);
    expect(rows).toHaveLength(10);
    expect(moveInGrid(rows, { row: 8, field: 'distanceMm' }, 'down')).toBeNull();
    expect(moveInGrid(rows, { row: 8, field: 'state' }, 'down')).toEqual({ row: 9, field: 'state' });
    expect(moveInGrid(rows, { row: 1, field: 'stateReason' }, 'up')).toBeNull();
    expect(moveInGrid(rows, { row: 0, field: 'state' }, 'right')).toEqual({ row: 0, field: 'distanceMm' });
    expect(moveInGrid(rows, { row: 4, field: 'state' }, 'next-structure')).toEqual({
      row: 9,
      field: 'state',
    });
    expect(moveInGrid(rows, { row: 4, field: 'distanceMm' }, 'next-structure')).toEqual({
      row: 9,
      field: 'state',
    });
    expect(moveInGrid(rows, { row: 9, field: 'state' }, 'previous-structure')).toEqual({
      row: 0,
      field: 'state',
    });
    expect(moveInGrid(rows, { row: 9, field: 'state' }, 'next-structure')).toBeNull();
  });

  it('reach every cell of every table from its first one', () => {
    const structures = fc.subarray(
      STRUCTURES.map(({ code }) => code),
      { minLength: 1 },
    );
    fc.assert(
      fc.property(structures, fc.boolean(), (chosen, isRepeat) => {
        const rows = gridRows(chosen, isRepeat);
        const seen = new Set(['0 state']);
        const open = [{ row: 0, field: rows[0].fields[0] }];
        for (let cell = open.pop(); cell; cell = open.pop()) {
          for (const direction of ['up', 'down', 'left', 'right'] satisfies Direction[]) {
            const next = moveInGrid(rows, cell, direction);
            if (!next || seen.has(`${next.row} ${next.field}`)) continue;
            seen.add(`${next.row} ${next.field}`);
            open.push(next);
          }
        }
        expect(seen.size).toBe(rows.reduce((sum, { fields }) => sum + fields.length, 0));
      }),
      { numRuns: 60 },
    );
  });

  it('choose by letter, each letter once in its field, and Delete for nothing', () => {
    for (const field of ELEMENT_FIELDS) {
      const letters = (choicesOfCell(field) ?? []).flatMap(({ letter }) => letter ?? []);
      expect(new Set(letters).size, field).toBe(letters.length);
      for (const { code, letter } of choicesOfCell(field) ?? []) {
        if (letter) expect(choiceOfKey(field, letter)).toBe(code);
      }
    }
    expect(choiceOfKey('state', 'A')).toBe('not-applicable');
    expect(choiceOfKey('state', 'Delete')).toBe('');
    expect(choiceOfKey('state', 'x')).toBeUndefined();
  });
});

describe('the page of a lesion set', () => {
  const account = accountOf(STORED, CASE);

  it('describes itself in a sentence that agrees with its numbers', () => {
    expect(account.description).toBe(
      'Lesion set: 15 of 16 segments closed in left pair and right pair; 0 of 1 lines blocked both ways.',
    );
    expect(accountOf({ ...STORED, elements: [] }, CASE).description).toBe(
      'Lesion set: nothing is recorded as done.',
    );
  });

  it('says all that follows, with a way to settle a disagreement', () => {
    const markup = renderToStaticMarkup(<LesionAccountNotes account={account} settleHref="/settle" />);
    for (const words of [
      'Wide with lines.',
      'The operator wrote wide encircling; the lesions show wide with lines.',
      'href="/settle"',
      'Gap: anterior carina (still open).',
      'Not met',
      'No block in both directions: roof line.',
      'Nothing is flagged.',
    ]) {
      expect(markup).toContain(words);
    }
    expect(markup).not.toContain('reconnected');
    const repeat = accountOf(STORED, { ...CASE, ordinal: 2 });
    expect(renderToStaticMarkup(<LesionAccountNotes account={repeat} />)).toContain('No earlier lesion set');
  });

  it('shows every segment in its table, and counts the rows of each filter', () => {
    const table = (filter: 'all' | 'open') =>
      renderToStaticMarkup(
        <LesionTable
          shown={account.shown}
          energy="radiofrequency"
          isRepeat={false}
          filter={filter}
          path="/x"
        />,
      );
    expect(table('all').match(/<th scope="row"/g)).toHaveLength(22);
    expect(table('open').match(/<th scope="row"/g)).toHaveLength(2);
    expect(table('all')).toMatch(/All of it, 22/);
    expect(table('all')).toMatch(/Still open, 2/);
    expect(table('all')).toContain('75.0 %');
    expect(table('open')).toContain('no criterion met');
    expect(table('all')).toContain('&lt; 0.1 mV');
  });
});

describe('the form of a lesion set before the scripts have taken over', () => {
  const render = (stored: StoredLesions, context: LesionContext = CASE) =>
    renderToStaticMarkup(
      <LesionRecordForm
        action={async () => ({ kind: 'unauthenticated' })}
        stored={stored}
        version={3}
        context={context}
        kept={[]}
        draft={DRAFT}
        readFile={async () => ({ kind: 'unauthenticated' })}
        cancelHref="/back"
      />,
    );

  it('holds what is stored, names every cell, and asks for a reason', () => {
    const markup = render(STORED);
    expect(markup).toMatch(/aria-label="Left pair, anterior carina, after"[^>]*value="0.2"/);
    expect(markup).toContain('aria-label="Left pair, whole ring, from the ostium"');
    expect(markup).toContain('Reason for the change');
    const names = [...markup.matchAll(/<(?:input|select)[^>]*data-row[^>]*>/g)].map(
      ([tag]) => /aria-label="([^"]+)"/.exec(tag)?.[1] ?? tag,
    );
    expect(new Set(names).size).toBe(names.length);
    const ids = [...markup.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('proposes the usual veins and the rings of the plan for a new set, and shows what is stored of another', () => {
    const empty = { ...STORED, veins: [], elements: [] };
    const fresh = render(empty, { ...CASE, needsReason: false });
    expect(fresh).toContain('the usual four are proposed');
    expect(fresh).toContain('Left pair: whole ring');
    expect(fresh).not.toContain('Reason for the change');
    expect(fresh).not.toContain('found reconnected');
    const ostial = render(empty, { ...CASE, ordinal: 2, intendedStrategy: 'ostial' });
    expect(ostial).toContain('Left superior vein: whole ring');
    expect(ostial).toContain('Left superior vein, superior, found reconnected');
    const odd = render({ ...STORED, elements: [element('rmpv', 'superior', ABATED)] });
    expect(odd).toContain('Right middle vein, superior');
  });
});

import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { LedgerTable } from '@/components/tables/ledger-table';
import { BigNumber } from '@/components/ui/big-number';
import { Button } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { Notice } from '@/components/ui/notice';
import { Pager } from '@/components/ui/pager';
import { Ribbon } from '@/components/ui/ribbon';
import { StateMark, type StateMarkKind } from '@/components/ui/state-mark';
import { Tabs } from '@/components/ui/tabs';

const KINDS: readonly StateMarkKind[] = [
  'overdue',
  'due',
  'upcoming',
  'done',
  'missed',
  'unfinished',
  'abated',
  'open',
  'not-recorded',
  'not-done',
  'not-applicable',
  'unjudged',
  'held',
  'reconnected',
];

describe('StateMark', () => {
  it('draws each state differently even when colour is taken away, and always says its words', () => {
    const drawings = KINDS.map((kind) => {
      const markup = renderToStaticMarkup(<StateMark kind={kind}>the words</StateMark>);
      expect(markup).toContain('the words');
      expect(markup).toMatch(/<svg[^>]*aria-hidden="true"/);
      // Colour comes in by the class of the mark alone; what is left is shape, dash and whether it is filled.
      return markup.slice(markup.indexOf('<path'), markup.lastIndexOf('</svg>'));
    });
    expect(new Set(drawings).size).toBe(KINDS.length);
  });
});

describe('Notice', () => {
  it('says its kind in words and speaks up only when asked to', () => {
    const still = renderToStaticMarkup(<Notice kind="caution">Look twice.</Notice>);
    expect(still).toContain('>Caution</strong>');
    expect(still).not.toContain('role=');
    expect(renderToStaticMarkup(<Notice kind="harm" live="alert" />)).toContain('role="alert"');
  });
});

describe('numbers', () => {
  it('open: a count is a link that says what it opens', () => {
    const markup = renderToStaticMarkup(
      <CountLink href="/cases?analysed=yes" opens="the 1,479 cases analysed">
        1,479
      </CountLink>,
    );
    expect(markup).toContain('href="/cases?analysed=yes"');
    expect(markup.replaceAll(/<[^>]*>/g, '')).toBe('1,479, opens the 1,479 cases analysed');
  });

  it('are never alone: interval and definition follow the big one', () => {
    const markup = renderToStaticMarkup(
      <BigNumber value="57.6 %" interval="55.0 to 60.1">
        free of arrhythmia at 12 months
      </BigNumber>,
    );
    const words = markup
      .replaceAll(/<[^>]*>/g, '|')
      .split('|')
      .filter(Boolean);
    expect(words).toEqual(['57.6 %', '55.0 to 60.1', 'free of arrhythmia at 12 months']);
  });
});

describe('Ribbon, Tabs, Pager', () => {
  it('states label and value and keeps actions apart', () => {
    const markup = renderToStaticMarkup(
      <Ribbon
        items={[{ label: 'Cohort', value: 'all' }, { value: '5 overdue' }]}
        actions={<Button>Filter</Button>}
      />,
    );
    expect(markup.match(/<li>/g)).toHaveLength(2);
    expect(markup.indexOf('Filter')).toBeGreaterThan(markup.indexOf('</ul>'));
  });

  it('marks the part that is open for eye and ear', () => {
    const markup = renderToStaticMarkup(
      <Tabs
        label="Parts of the case"
        tabs={[
          { href: '/a', label: 'Baseline' },
          { href: '/b', label: 'Procedure', current: true },
        ]}
      />,
    );
    expect(markup).toContain('aria-label="Parts of the case"');
    expect(markup.match(/aria-current="page"/g)).toHaveLength(1);
    expect(markup).toMatch(/href="\/b"[^>]*>Procedure|aria-current="page"[^>]*>Procedure/);
  });

  it('says which rows are shown, and offers only pages that exist', () => {
    const first = renderToStaticMarkup(
      <Pager from={1} to={50} total={1752} noun="cases" nextHref="/cases?page=2" />,
    );
    expect(first).toContain('1 to 50 of 1,752 cases');
    expect(first).not.toContain('Earlier page');
    expect(renderToStaticMarkup(<Pager from={0} to={0} total={0} noun="cases" />)).toContain('No cases');
  });
});

describe('LedgerTable', () => {
  const markup = renderToStaticMarkup(
    <LedgerTable
      caption="Most urgent first"
      rows={[
        { id: 'P-4KX7-M', days: 13 },
        { id: 'P-9TR2-C', days: 5 },
      ]}
      rowKey={(row) => row.id}
      isCurrent={(row) => row.days === 5}
      columns={[
        {
          key: 'id',
          head: 'Patient',
          rowHead: true,
          cell: (row) => row.id,
          sort: { href: '/s?by=id', state: 'none' },
        },
        {
          key: 'days',
          head: 'days',
          kind: 'number',
          cell: (row) => row.days,
          sort: { href: '/s', state: 'descending' },
        },
      ]}
      foot={['Total', 18]}
    />,
  );

  it('is a real table, named by its caption, with a head for each column and row', () => {
    const id = /<caption id="([^"]+)"/.exec(markup)?.[1];
    expect(markup).toContain(`aria-labelledby="${id}"`);
    expect(markup.match(/<th scope="col"/g)).toHaveLength(2);
    expect(markup.match(/<th scope="row"/g)).toHaveLength(2);
    expect(markup.match(/<tr/g)).toHaveLength(4);
    expect(markup).toContain('<tfoot>');
  });

  it('sorts by link and says the order once', () => {
    expect(markup.match(/aria-sort="descending"/g)).toHaveLength(1);
    expect(markup).not.toContain('aria-sort="none"');
    expect(markup).toContain('href="/s?by=id"');
  });

  it('marks the row the page is about', () => {
    expect(markup).toMatch(/<tr aria-current="true">.*P-9TR2-C/);
    expect(markup.match(/aria-current/g)).toHaveLength(1);
  });
});

describe('Button', () => {
  it('is no submit button unless it says so, and stays in reach while busy', () => {
    expect(renderToStaticMarkup(<Button>Filter</Button>)).toContain('type="button"');
    const busy = renderToStaticMarkup(<Button busy>Saving</Button>);
    expect(busy).toContain('aria-disabled="true"');
    expect(busy).not.toContain(' disabled');
  });
});

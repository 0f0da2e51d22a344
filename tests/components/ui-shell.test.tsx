import { renderToStaticMarkup } from 'react-dom/server';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { landingPage } from '@/app/(public)/sign-in/landing-page';
import {
  announce,
  currentAnnouncement,
  dismissAnnouncement,
  subscribeToAnnouncements,
} from '@/components/shell/announcement-store';
import { CAUTION_FULL, CAUTION_SHORT } from '@/components/shell/caution';
import { DeadEnd } from '@/components/shell/dead-end';
import { referenceOf } from '@/components/shell/error-words';
import { isWithin, NAVIGATION, navigationFor } from '@/components/shell/navigation';
import { Shell } from '@/components/shell/shell';
import { readTheme } from '@/components/shell/theme';
import { PERMISSIONS } from '@/lib/access/permissions';

const place = vi.hoisted(() => ({ pathname: '/cases/0192' }));
vi.mock('next/navigation', () => ({ usePathname: () => place.pathname }));

const shell = (demo: boolean) =>
  renderToStaticMarkup(
    <Shell
      items={navigationFor(PERMISSIONS)}
      counts={{ '/today': '17' }}
      who={{ role: 'Lab director', code: 'D-02' }}
      demo={demo}
      theme="dark"
      chooseTheme={async () => undefined}
    >
      <h1>Cases</h1>
    </Shell>,
  );

describe('navigation', () => {
  it('asks only for permissions that the role table knows', () => {
    const known: readonly string[] = PERMISSIONS;
    for (const item of NAVIGATION) expect(known).toContain(item.permission);
  });

  it('shows what may be opened and nothing else', () => {
    expect(navigationFor([])).toEqual([]);
    expect(navigationFor(['cases.read']).map((item) => item.href)).toEqual(['/cases']);
  });

  it('knows a room by its address and not by a longer word', () => {
    expect(isWithin('/cases', '/cases')).toBe(true);
    expect(isWithin('/cases/0192/history', '/cases')).toBe(true);
    expect(isWithin('/cases-of-others', '/cases')).toBe(false);
  });
});

describe('Shell', () => {
  it('begins with a link past the navigation and ends with the caution', () => {
    const markup = shell(false);
    expect(/<a [^>]*href="([^"]*)"/.exec(markup)?.[1]).toBe('#content');
    expect(markup).toContain('<main id="content"');
    expect(markup.slice(markup.indexOf('<footer'))).toContain(CAUTION_SHORT);
  });

  it('marks the room that is open, and only that one', () => {
    const links = shell(false).match(/<a [^>]*aria-current="page"[^>]*>[^<]*/g) ?? [];
    expect(links).toHaveLength(1);
    expect(links[0]).toMatch(/>Cases$/);
  });

  it('says who is signed in, by role and code', () => {
    expect(shell(false).replaceAll(/<[^>]*>/g, '')).toContain('Lab director · D-02');
  });

  it('says that data are invented in the demo lab only', () => {
    expect(shell(true)).toContain('Demo lab, invented data.');
    expect(shell(false)).not.toContain('invented');
  });

  it('carries no inline script, which the content policy would stop', () => {
    expect(shell(true)).not.toMatch(/<script|javascript:| on[a-z]+="/);
  });
});

describe('the caution', () => {
  it('keeps its three limits: no advice on one patient, deference, no proof of effect', () => {
    expect(CAUTION_FULL).toMatch(/does not diagnose, treat, or advise on a single patient/);
    expect(CAUTION_FULL).toMatch(
      /defers to local codes, ethics rules and the judgement of the treating team/,
    );
    expect(CAUTION_FULL).toMatch(/do not prove effect/);
  });
});

describe('readTheme', () => {
  it('takes the three choices and lets the system decide about anything else', () => {
    expect(['light', 'dark', 'system'].map(readTheme)).toEqual(['light', 'dark', 'system']);
    expect([undefined, '', 'sepia', 'dark;'].map(readTheme)).toEqual([
      'system',
      'system',
      'system',
      'system',
    ]);
  });
});

describe('announcements', () => {
  beforeEach(dismissAnnouncement);

  it('count each saying, so that the same words twice are two', () => {
    announce('Visit saved.');
    const first = currentAnnouncement();
    announce('Visit saved.');
    expect(currentAnnouncement()?.number).toBe((first?.number ?? 0) + 1);
    expect(currentAnnouncement()?.text).toBe('Visit saved.');
  });

  it('tell whoever listens, until they stop', () => {
    const listener = vi.fn();
    const stop = subscribeToAnnouncements(listener);
    announce('one');
    stop();
    announce('two');
    expect(listener).toHaveBeenCalledTimes(1);
  });
});

describe('dead ends', () => {
  it('give the digest of the server as reference and nothing of the message', () => {
    const error = Object.assign(new Error('relation "patients" does not exist'), { digest: '3441055645' });
    expect(referenceOf(error)).toBe('3441055645');
    expect(referenceOf(new Error('plain'))).toBeUndefined();
    expect(referenceOf('thrown text')).toBeUndefined();
    const markup = renderToStaticMarkup(
      <DeadEnd title="t" reference="3441055645" actions={null}>
        words
      </DeadEnd>,
    );
    expect(markup).toContain('<code>3441055645</code>');
  });
});

describe('landingPage', () => {
  const at = (query: string) =>
    landingPage({ href: `http://localhost:3000/sign-in${query}`, origin: 'http://localhost:3000' });

  it('follows an address of the lab', () => {
    expect(at(`?callbackUrl=${encodeURIComponent('/cases?type=persistent#list')}`)).toBe(
      '/cases?type=persistent#list',
    );
    expect(at(`?callbackUrl=${encodeURIComponent('http://localhost:3000/outcomes')}`)).toBe('/outcomes');
  });

  it.each([
    '',
    '?callbackUrl=',
    '?callbackUrl=https%3A%2F%2Felsewhere.example%2Fcases',
    '?callbackUrl=%2F%2Felsewhere.example',
    '?callbackUrl=%5C%5Celsewhere.example',
    '?callbackUrl=javascript%3Aalert(1)',
    '?callbackUrl=%2Fsign-in',
    '?callbackUrl=http%3A%2F%2F%5B',
  ])('leads to Today for %s', (query) => {
    expect(at(query)).toBe('/today');
  });
});

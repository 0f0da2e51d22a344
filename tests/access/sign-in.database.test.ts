import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type OpenLab, openLab } from '../records/lab-in-database';

let lab: OpenLab;
beforeAll(async () => {
  lab = await openLab();
});
afterAll(() => lab.close());

type Authorize = (typed: Record<string, string> | undefined) => Promise<{ id: string } | null>;

/** The check that next-auth calls, taken out of the options it is given. */
async function authorizer(): Promise<Authorize> {
  const { authOptions } = await import('@/lib/access/auth-options');
  const [provider] = authOptions.providers;
  if (!provider || !('options' in provider) || !provider.options) throw new Error('no credentials provider');
  const { authorize } = provider.options;
  if (typeof authorize !== 'function') throw new Error('no authorize');
  return (typed) => authorize(typed, { headers: {}, query: {}, body: {}, method: 'POST' });
}

let accounts = 0;

async function account(signInName: string, password: string) {
  const { hashPassword } = await import('@/lib/access/passwords');
  const { createUser } = await import('@/lib/records/users/write');
  const passwordHash = await hashPassword(password);
  accounts += 1;
  const code = `X-${accounts}`;
  return createUser(lab.program, { signInName, code, role: 'coordinator', passwordHash });
}

describe('signing in', () => {
  it('takes the right password in composed and decomposed letters, and nothing else', async () => {
    const authorize = await authorizer();
    const { id } = await account('right', 'naïve corrèct horse 1');
    const tries = (password: string, signInName = 'right') => authorize({ signInName, password });
    expect((await tries('naïve corrèct horse 1'.normalize('NFC')))?.id).toBe(id);
    expect((await tries('naïve corrèct horse 1'.normalize('NFD')))?.id).toBe(id);
    expect((await tries('naïve corrèct horse 1', '  RIGHT '))?.id).toBe(id);
    expect(await tries('naïve corrèct horse 2')).toBeNull();
    expect(await tries('naïve corrèct horse 1', 'nobody')).toBeNull();
    expect(await tries('')).toBeNull();
    expect(await tries('x'.repeat(10_000))).toBeNull();
    expect(await authorize(undefined)).toBeNull();
  });

  it('evaluates at most 100 wrong tries of a name, and another name is not touched by it', async () => {
    const authorize = await authorizer();
    await account('guessed', 'correct horse battery');
    await account('bystander', 'correct horse battery');
    const { addFailure } = await import('@/lib/records/users/sign-in-counters');
    const { createHash } = await import('node:crypto');
    const bucket = createHash('sha256').update('name:guessed').digest('hex');
    for (let i = 0; i < 99; i += 1) await addFailure(bucket, 60);
    expect(await authorize({ signInName: 'guessed', password: 'wrong' })).toBeNull();
    expect(await authorize({ signInName: 'guessed', password: 'correct horse battery' })).toBeNull();
    expect(await authorize({ signInName: 'bystander', password: 'correct horse battery' })).not.toBeNull();
  });
});

describe('a session', () => {
  it('ends with the next request when the account is disabled, its role changes or its password changes', async () => {
    const pg = (await import('pg')).default;
    const { actorOfSession } = await import('@/lib/records/actor-of-session');
    const { id } = await account('leaving', 'correct horse battery');
    const owner = new pg.Client({ connectionString: lab.database.ownerUrl });
    await owner.connect();
    expect((await actorOfSession(id, 1))?.role).toBe('coordinator');
    await owner.query('UPDATE users SET role = $2 WHERE id = $1', [id, 'physician']);
    expect((await actorOfSession(id, 1))?.role).toBe('physician');
    await owner.query('UPDATE users SET token_version = 2 WHERE id = $1', [id]);
    expect(await actorOfSession(id, 1)).toBeNull();
    await owner.query('UPDATE users SET disabled_at = now() WHERE id = $1', [id]);
    expect(await actorOfSession(id, 2)).toBeNull();
    await owner.end();
  });
});

describe('the first administrator', () => {
  it('is made once by a link that is valid, and by nobody else', async () => {
    const pg = (await import('pg')).default;
    const { hashOfSetupToken } = await import('@/lib/records/actor-of-setup-link');
    const { createFirstAdministrator } = await import('@/lib/records/users/first-administrator');
    const owner = new pg.Client({ connectionString: lab.database.ownerUrl });
    await owner.connect();
    const link = (token: string, hours: number) =>
      owner.query(`INSERT INTO setup_links VALUES ($1, $2, now() + $3 * interval '1 hour', NULL)`, [
        hashOfSetupToken(token),
        lab.labId,
        hours,
      ]);
    await link('expired-token-0123456789', -1);
    await link('valid-token-0123456789', 24);
    const make = (token: string, signInName: string) =>
      createFirstAdministrator(token, { signInName, code: signInName.toUpperCase(), passwordHash: 'x' });
    await expect(make('unknown-token-0123456789', 'a-1')).rejects.toMatchObject({ kind: 'forbidden' });
    await expect(make('expired-token-0123456789', 'a-2')).rejects.toMatchObject({ kind: 'forbidden' });
    const both = await Promise.allSettled([
      make('valid-token-0123456789', 'a-3'),
      make('valid-token-0123456789', 'a-4'),
    ]);
    expect(both.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(1);
    await expect(make('valid-token-0123456789', 'a-5')).rejects.toMatchObject({ kind: 'forbidden' });
    await owner.end();
  });
});

import { mkdirSync, symlinkSync } from 'node:fs';
import { createServer } from 'node:net';
import path from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { appEnvironment } from '../../lib/launch/app-environment.mjs';
import { withoutPassword, withUtc } from '../../lib/launch/connection-string.mjs';
import { isNodeSupported, requireNode } from '../../lib/launch/node-range.mjs';
import { choosePort, isPortFree, readPort } from '../../lib/launch/port.mjs';
import { readSettings } from '../../lib/launch/settings.mjs';
import { temporaryFolder } from './temporary-folder';

describe('the range of Node', () => {
  test.each(['20.19.0', 'v20.20.2', '22.12.0', '22.99.1', '24.0.0', '25.1.0', '31.0.0'])(
    'takes %s',
    (version) => {
      expect(isNodeSupported(version)).toBe(true);
    },
  );
  test.each(['18.20.4', '20.18.3', '21.7.0', '22.11.0', '23.11.0', '', 'twenty'])(
    'refuses "%s"',
    (version) => {
      expect(isNodeSupported(version)).toBe(false);
      expect(() => requireNode(version)).toThrow(/outside the supported range/);
    },
  );
});

describe('the port', () => {
  test('is 3000 by default, or the next free one', async () => {
    const busy = new Set([3000, 3001]);
    const isFree = async (port: number) => !busy.has(port);
    expect(await choosePort({ asked: undefined, isFree: async () => true })).toBe(3000);
    expect(await choosePort({ asked: undefined, isFree })).toBe(3002);
  });
  test('asked for and busy is refused, and a free one is named', async () => {
    const isFree = async (port: number) => port > 4001;
    await expect(choosePort({ asked: 4000, isFree })).rejects.toMatchObject({
      message: 'Port 4000 is busy.',
      advice: expect.stringContaining('PORT=4002'),
    });
  });
  test.each(['127.0.0.1', '::1'])('counts as busy when somebody listens on %s', async (host) => {
    const server = createServer();
    await new Promise<void>((resolve) => server.listen({ port: 0, host }, resolve));
    onTestFinished(() => {
      server.close();
    });
    const address = server.address();
    const port = typeof address === 'object' && address ? address.port : 0;
    expect(await isPortFree(port)).toBe(false);
    expect(
      await choosePort({ asked: undefined, isFree: (one) => isPortFree(one === 3000 ? port : one + 41_000) }),
    ).toBe(3001);
  });
  test.each(['0', '65536', '-1', '3000x', '3e3', ' 3000'])('"%s" is no port', (text) => {
    expect(() => readPort(text)).toThrow(/is no port/);
  });
});

describe('what the person asked for', () => {
  const root = '/somewhere/afterbeat';
  test('is a demo lab in the checkout, on the loopback address, unless said otherwise', () => {
    const settings = readSettings({ args: [], env: { AFTERBEAT_DATA: '/data' }, root });
    expect(settings).toMatchObject({
      isProduction: false,
      dataDir: `${root}/.data`,
      host: '127.0.0.1',
      port: undefined,
    });
  });
  test.each(['0.0.0.0', '192.0.2.7', '::', 'lab.example', '127.0.0.1.example'])(
    'refuses the demo lab on HOST=%s',
    (HOST) => {
      expect(() => readSettings({ args: [], env: { HOST }, root })).toThrow(/demo lab to the network/);
      expect(
        readSettings({ args: ['--production'], env: { HOST, AFTERBEAT_DATA: '/data' }, root }).host,
      ).toBe(HOST);
    },
  );
  test.each([
    [{ AFTERBEAT_DATA: '/data/lab' }, '/data/lab'],
    [{ XDG_DATA_HOME: '/home/a/.share' }, '/home/a/.share/afterbeat'],
  ])('keeps real data in %o', (env, dataDir) => {
    expect(readSettings({ args: ['--production'], env, root }).dataDir).toBe(dataDir);
  });
  test('never keeps real data in the demo lab’s folder, not even through a link', () => {
    const folder = temporaryFolder();
    mkdirSync(path.join(folder, '.data'));
    symlinkSync(path.join(folder, '.data'), path.join(folder, 'link'));
    for (const name of ['.data', '.data/inside', 'link', 'link/inside']) {
      const env = { AFTERBEAT_DATA: path.join(folder, name) };
      expect(() => readSettings({ args: ['--production'], env, root: folder })).toThrow(/demo lab's folder/);
    }
    const env = { AFTERBEAT_DATA: path.join(folder, '.data-of-the-lab') };
    expect(readSettings({ args: ['--production'], env, root: folder }).dataDir).toBe(env.AFTERBEAT_DATA);
  });
});

describe('the connection string', () => {
  test.each([
    ['postgresql://a:b@h:5432/d', 'postgresql://a:b@h:5432/d?options=-c%20TimeZone%3DUTC'],
    [
      'postgresql://a:b@h/d?sslmode=require',
      'postgresql://a:b@h/d?sslmode=require&options=-c%20TimeZone%3DUTC',
    ],
    [
      'postgresql://a@h/d?options=-c%20search_path%3Dx',
      'postgresql://a@h/d?options=-c%20search_path%3Dx%20-c%20TimeZone%3DUTC',
    ],
    ['postgres://a@h/d?options=-c%20TimeZone%3DAsia/Tokyo', 'postgres://a@h/d?options=-c%20TimeZone%3DUTC'],
  ])('%s names UTC', (given, expected) => {
    expect(withUtc(given)).toBe(expected);
    expect(withUtc(withUtc(given))).toBe(expected);
  });
  test.each(['', 'localhost', 'mysql://a@h/d', 'postgresql://h/d', 'postgresql://a@h', 'postgresql://a@h/'])(
    'refuses "%s"',
    (url) => {
      expect(() => withUtc(url)).toThrow(/DATABASE_URL/);
    },
  );
  test('is shown without its password', () => {
    expect(withoutPassword('postgresql://a:secret@h:1/d?options=x')).toBe('postgresql://a@h:1/d');
  });
});

describe('the environment of the app', () => {
  const keys = { NEXTAUTH_SECRET: 's', AFTERBEAT_MASTER_KEY: 'm', AFTERBEAT_IDENTITY_KEY: 'i' };
  const given = { appUrl: 'postgresql://app', keys, isProduction: false, address: 'http://localhost:3001' };
  test('carries the lesser role and no way to the owner', () => {
    const env = { DATABASE_OWNER_URL: 'postgresql://owner', DATABASE_URL: 'x', HOST: 'h', PATH: '/bin' };
    const made = appEnvironment({ ...given, env });
    expect(made).toMatchObject({
      ...keys,
      DATABASE_URL: 'postgresql://app',
      AFTERBEAT_DEMO: '1',
      PATH: '/bin',
    });
    expect(JSON.stringify(made)).not.toContain('owner');
  });
  test('follows the actual address unless one is given', () => {
    expect(appEnvironment({ ...given, env: {} }).NEXTAUTH_URL).toBe('http://localhost:3001');
    const env = { NEXTAUTH_URL: 'https://lab.example' };
    expect(appEnvironment({ ...given, env }).NEXTAUTH_URL).toBe('https://lab.example');
  });
  test('never says demo in production, whatever the terminal says', () => {
    expect(
      appEnvironment({ ...given, isProduction: true, env: { AFTERBEAT_DEMO: '1' } }).AFTERBEAT_DEMO,
    ).toBe('0');
  });
});

import { withoutPassword, withUtc } from './connection-string.mjs';
import { withClient } from './database-client.mjs';
import { openDatabase } from './embedded-database.mjs';
import { codeOf, LaunchFailure, messageOf } from './failure.mjs';

/**
 * @typedef {object} LabDatabase
 * @property {string} ownerUrl
 * @property {string} appUrl
 * @property {string | undefined} adminUrl only when embedded
 * @property {() => Promise<void>} release
 */

const OLDEST_SERVER = 150_000;
/** With any of these off, PostgreSQL may lose what it has acknowledged. */
const DURABLE = ['fsync', 'full_page_writes', 'synchronous_commit'];

/**
 * Opens the lab's database: the one that DATABASE_URL names, else the embedded one of the data folder.
 * @param {{ dataDir: string, env: Record<string, string | undefined>, isProduction: boolean, log: (line: string) => void }} options
 * @returns {Promise<LabDatabase>}
 * @throws {LaunchFailure}
 */
export async function openLabDatabase({ dataDir, env, isProduction, log }) {
  const given = givenUrls(env, isProduction);
  const opened = given ?? (await openDatabase({ dataDir, log }));
  if (given) log(withoutPassword(given.appUrl));
  try {
    const ownerVariable = env.DATABASE_OWNER_URL ? 'DATABASE_OWNER_URL' : 'DATABASE_URL';
    const owner = await inspect(opened.ownerUrl, given ? ownerVariable : 'the embedded database');
    const app = await inspect(opened.appUrl, given ? 'DATABASE_URL' : 'the embedded database');
    if (isProduction) requireLesserRole(owner, app);
    return opened;
  } catch (error) {
    await opened.release();
    throw error;
  }
}

/**
 * @param {Record<string, string | undefined>} env
 * @param {boolean} isProduction
 * @returns {LabDatabase | undefined}
 */
export function givenUrls(env, isProduction) {
  const { DATABASE_URL: app, DATABASE_OWNER_URL: owner } = env;
  if (!app && !owner) return undefined;
  if (!app)
    throw new LaunchFailure('DATABASE_OWNER_URL is given without DATABASE_URL.', 'give both, or neither.');
  if (!owner && isProduction) {
    throw new LaunchFailure(
      'DATABASE_URL is given without DATABASE_OWNER_URL: one role would serve both the app and the migrations.',
      'create a second role that owns the database and name it in DATABASE_OWNER_URL; the app then cannot change its own trail.',
    );
  }
  return {
    ownerUrl: withUtc(owner || app, owner ? 'DATABASE_OWNER_URL' : 'DATABASE_URL'),
    appUrl: withUtc(app),
    adminUrl: undefined,
    release: async () => {},
  };
}

/** @typedef {{ role: string, is_superuser: boolean, memberships: string[], database: string }} Inspected */

/**
 * @param {string} url
 * @param {string} variable
 * @returns {Promise<Inspected>}
 */
async function inspect(url, variable) {
  const row = await withClient(url, async (client) => {
    const { rows } = await client.query(
      `SELECT current_setting('server_version_num')::int AS version, current_setting('server_version') AS named,
         current_user AS role, r.rolsuper AS is_superuser, current_database() AS database,
         (SELECT COALESCE(array_agg(o.rolname::text), '{}') FROM pg_roles o WHERE pg_has_role(current_user, o.oid, 'MEMBER')) AS memberships,
         (SELECT COALESCE(array_agg(s.name), '{}') FROM pg_settings s WHERE s.name = ANY($1) AND s.setting = 'off') AS undurable
       FROM pg_roles r WHERE r.rolname = current_user`,
      [DURABLE],
    );
    return rows[0];
  }).catch((error) => {
    throw unreachable(url, variable, error);
  });
  if (row.version < OLDEST_SERVER) {
    throw new LaunchFailure(
      `${variable} names PostgreSQL ${row.named}; 15 is the oldest that serves.`,
      'upgrade that server, or leave the variable out: then an embedded one is used.',
    );
  }
  if (row.undurable.length > 0) {
    throw new LaunchFailure(
      `PostgreSQL may lose what it has acknowledged, because ${row.undurable.join(' and ')} is off.`,
      `set ${row.undurable.join(' and ')} to on, for the server as for the role ${row.role}, then start again.`,
    );
  }
  return row;
}

/** @param {string} url @param {string} variable @param {unknown} error */
function unreachable(url, variable, error) {
  /** @type {Record<string, string>} */
  const advice = {
    ECONNREFUSED: 'start that server, or mend host and port.',
    ENOTFOUND: 'mend the name of the host.',
    '28P01': 'mend role or password.',
    28000: 'mend role or password, or let the role log in.',
    '3D000': 'create that database, or mend its name.',
  };
  return new LaunchFailure(
    `The database of ${variable} (${withoutPassword(url)}) does not open: ${messageOf(error)}`,
    advice[codeOf(error) ?? ''] ?? 'mend the address, then start again.',
  );
}

/** @param {Inspected} owner @param {Inspected} app */
function requireLesserRole(owner, app) {
  if (owner.database !== app.database) {
    throw new LaunchFailure(
      `DATABASE_OWNER_URL names the database ${owner.database}, DATABASE_URL names ${app.database}.`,
      'let both name the same one.',
    );
  }
  if (app.role !== owner.role && !app.is_superuser && !app.memberships.includes(owner.role)) return;
  throw new LaunchFailure(
    `The app's role ${app.role} has the rights of the owner ${owner.role}: it could change its own audit trail.`,
    'name in DATABASE_URL a role of its own that is no superuser and no member of the owner.',
  );
}

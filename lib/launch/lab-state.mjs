import { LaunchFailure } from './failure.mjs';

/**
 * What the database is for. It is noted beside the migrations, in the database itself, so that no mistyped address
 * ever mixes invented and real patients.
 * @typedef {'unmarked' | 'demo-loading' | 'demo' | 'production'} Purpose
 * @typedef {{ purpose: Purpose, labs: number, definitions: number, patients: number, administrators: number }} LabState
 */

const PREFIX = 'afterbeat:';

/**
 * @param {import('pg').Client} client connected as the owner, after the migrations
 * @returns {Promise<LabState>}
 */
export async function readLabState(client) {
  const { rows } = await client.query(
    `SELECT obj_description('"_prisma_migrations"'::regclass, 'pg_class') AS note,
       (SELECT count(*)::int FROM labs) AS labs,
       (SELECT count(*)::int FROM (SELECT 1 FROM endpoint_definitions LIMIT 1) d) AS definitions,
       (SELECT count(*)::int FROM (SELECT 1 FROM patients LIMIT 1) p) AS patients,
       (SELECT count(*)::int FROM users WHERE role = 'administrator' AND disabled_at IS NULL) AS administrators`,
  );
  const { note, ...counts } = rows[0];
  const purpose = note?.startsWith(PREFIX) ? note.slice(PREFIX.length) : 'unmarked';
  return { purpose, ...counts };
}

/**
 * @param {import('pg').Client} client
 * @param {Exclude<Purpose, 'unmarked'>} purpose
 */
export async function markPurpose(client, purpose) {
  await client.query(`COMMENT ON TABLE "_prisma_migrations" IS ${client.escapeLiteral(PREFIX + purpose)}`);
}

/**
 * @param {LabState} state
 * @param {{ isProduction: boolean }} wanted
 * @throws {LaunchFailure} when the database serves the other purpose
 */
export function requirePurpose(state, { isProduction }) {
  if (isProduction && state.purpose.startsWith('demo')) {
    throw new LaunchFailure(
      'This database holds a demo lab with invented patients.',
      'name another database for real data, or start without --production.',
    );
  }
  const holdsRealLab = state.purpose === 'production' || (state.purpose === 'unmarked' && state.labs > 0);
  if (!isProduction && holdsRealLab) {
    throw new LaunchFailure(
      'This database holds a real lab; the demo lab needs one of its own.',
      'start it with: npm start -- --production; or leave DATABASE_URL out for a demo lab.',
    );
  }
}

import { LaunchFailure } from './failure.mjs';

/** Rows that are written once: the trail, and the versioned definitions. */
const WRITTEN_ONCE = ['audit_entries', 'endpoint_definitions', 'follow_up_schedules'];
/** Rows that are refuted or voided, never taken away. */
const NEVER_REMOVED = ['complications', 'readmissions'];
const READ_ONLY = ['_prisma_migrations'];
const EVERY_RIGHT = ['SELECT', 'INSERT', 'UPDATE', 'DELETE'];

/**
 * @param {string} table
 * @returns {string[]} what the app may do with it
 */
export function rightsOn(table) {
  if (READ_ONLY.includes(table)) return ['SELECT'];
  if (NEVER_REMOVED.includes(table)) return ['SELECT', 'INSERT', 'UPDATE'];
  return WRITTEN_ONCE.includes(table) ? ['SELECT', 'INSERT'] : EVERY_RIGHT;
}

/**
 * Gives the app's role exactly its rights: rows, never the shape of a table.
 * @param {import('pg').Client} client connected as the owner
 * @param {string} role the app's role; when it is the owner itself there is nothing to give
 */
export async function grantRights(client, role) {
  const { rows: roles } = await client.query(
    'SELECT current_user AS owner, (SELECT oid FROM pg_roles WHERE rolname = $1) AS oid',
    [role],
  );
  if (roles[0].owner === role) return;
  if (roles[0].oid === null) {
    throw new LaunchFailure(
      `The role ${role} of DATABASE_URL does not exist on the server of DATABASE_OWNER_URL.`,
      'let both name the same server and database, and create the role there.',
    );
  }
  const { rows } = await client.query(
    `SELECT c.relname AS name,
       COALESCE((SELECT array_agg(a.privilege_type::text) FROM aclexplode(c.relacl) a WHERE a.grantee = $1), '{}') AS held
     FROM pg_class c
     WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p', 'v', 'm')`,
    [roles[0].oid],
  );
  const differing = rows.filter(
    ({ name, held }) => rightsOn(name).toSorted().join() !== held.toSorted().join(),
  );
  const app = client.escapeIdentifier(role);
  const statements = [
    `GRANT USAGE ON SCHEMA public TO ${app}`,
    `REVOKE CREATE ON SCHEMA public FROM PUBLIC, ${app}`,
    ...differing.flatMap(({ name }) => {
      const table = `public.${client.escapeIdentifier(name)}`;
      return [
        `REVOKE ALL ON ${table} FROM ${app}`,
        `GRANT ${rightsOn(name).join(', ')} ON ${table} TO ${app}`,
      ];
    }),
  ];
  // In one transaction: an app that is running never meets the moment between taking and giving.
  await client.query(`BEGIN; ${statements.join('; ')}; COMMIT`);
}

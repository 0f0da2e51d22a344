import { openTestDatabase, type TestDatabase } from '../support/database';

/** A fresh database with one lab that is set up as `npm start -- --production` does it, and an actor for it. */
export async function openLab() {
  const database: TestDatabase = await openTestDatabase();
  const { createLab, setUpLab } = await import('@/lib/records/labs/write');
  const { createOperator } = await import('@/lib/records/labs/operators');
  const { createUser } = await import('@/lib/records/users/write');
  const { actorOfProgram } = await import('@/lib/records/actor-of-program');
  const { actorOfSession } = await import('@/lib/records/actor-of-session');
  const { closeRecords } = await import('@/lib/records/close');
  const { ENDPOINT_PRESETS } = await import('@/lib/registry/endpoint-presets');
  const { DEFAULT_SLOTS } = await import('@/lib/registry/follow-up-schedule');
  const labId = await createLab('Test lab');
  const program = await actorOfProgram('test', labId);
  await setUpLab(program, { labName: 'Test lab', definitions: ENDPOINT_PRESETS, schedule: DEFAULT_SLOTS });
  const operator = await createOperator(program, 'OP-1');
  let people = 0;
  const person = async (role: 'coordinator' | 'physician' | 'director' | 'administrator') => {
    people += 1;
    const code = `${role.charAt(0).toUpperCase()}-${people}`;
    const { id } = await createUser(program, {
      signInName: `${role}-${code}`,
      code,
      role,
      passwordHash: 'not a hash',
    });
    const actor = await actorOfSession(id, 1);
    if (!actor) throw new Error('the new account could not act');
    return actor;
  };
  return {
    database,
    labId,
    program,
    operatorId: operator.id,
    person,
    close: async () => {
      await closeRecords();
      await database.close();
    },
  };
}

export type OpenLab = Awaited<ReturnType<typeof openLab>>;

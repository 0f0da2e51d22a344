import { actorOfProgram } from '../lib/records/actor-of-program';
import { bulkLoadPatients } from '../lib/records/bulk-load';
import { closeRecords } from '../lib/records/close';
import { createOperator } from '../lib/records/labs/operators';
import { countLabContents, createLab, setUpLab } from '../lib/records/labs/write';
import { createUser } from '../lib/records/users/write';
import { calendarDay } from '../lib/registry/calendar-day';
import { ENDPOINT_PRESETS } from '../lib/registry/endpoint-presets';
import { DEFAULT_SLOTS } from '../lib/registry/follow-up-schedule';
import { demoPatients } from './generator';
import { DEMO_SEED, OPERATORS } from './parameters';
import { type DemoSignIn, hashDemoPassword, readDemoSignIns } from './sign-ins';

const LAB_NAME = 'Demo lab';

/** Fills an empty database with the invented lab: people, definitions, schedule, and seven years of cases that end today. */
async function loadDemoLab(): Promise<void> {
  const signIns = readDemoSignIns(process.env.AFTERBEAT_DEMO_SIGN_INS);
  const { labs, patients } = await countLabContents();
  if (labs > 0 || patients > 0) {
    throw new Error(
      `This database is not empty (${labs} labs, ${patients} patients). The demo lab is loaded into an empty one only; nothing was changed.`,
    );
  }
  const actor = await actorOfProgram('seed', await createLab(LAB_NAME));
  await setUpLab(actor, { labName: LAB_NAME, definitions: ENDPOINT_PRESETS, schedule: DEFAULT_SLOTS });
  const userIds = await createPeople(actor, signIns);
  const operators: [string, string][] = [];
  for (const code of OPERATORS) operators.push([code, (await createOperator(actor, code)).id]);
  const idOf = (code: string): string => Object.fromEntries(operators)[code];
  console.log('Lab, people, definitions and schedule are there.');

  const anchor = calendarDay(new Date().toISOString().slice(0, 10));
  const generated = demoPatients({
    anchor,
    people: {
      coordinatorId: userIds.get('coordinator') ?? null,
      physicianId: userIds.get('physician') ?? null,
      operatorIds: { 'OP-1': idOf('OP-1'), 'OP-2': idOf('OP-2'), 'OP-3': idOf('OP-3') },
    },
  });
  const procedures = generated.reduce((sum, { procedures: own }) => sum + own.length, 0);
  console.log(`Invented ${generated.length} patients with ${procedures} procedures (seed ${DEMO_SEED}).`);
  await bulkLoadPatients(actor, generated, {
    action: 'lab.seed',
    onProgress: (done) => console.log(`Stored ${done} of ${generated.length} patients.`),
  });
}

async function createPeople(
  actor: Awaited<ReturnType<typeof actorOfProgram>>,
  signIns: readonly DemoSignIn[],
): Promise<Map<string, string>> {
  const ids = new Map<string, string>();
  for (const { role, signInName, code, password } of signIns) {
    const passwordHash = await hashDemoPassword(password);
    const { id } = await createUser(actor, { role, signInName, code, passwordHash });
    if (!ids.has(role)) ids.set(role, id);
  }
  return ids;
}

const began = performance.now();
try {
  await loadDemoLab();
  console.log(`The demo lab is loaded (${((performance.now() - began) / 1000).toFixed(1)} s).`);
} catch (error) {
  console.error(error instanceof Error ? error.message : 'The demo lab could not be loaded.');
  process.exitCode = 1;
} finally {
  await closeRecords();
}

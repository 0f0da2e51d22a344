import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type WorklistItem, worklistOf } from '@/lib/registry/worklist';
import { seededRandom } from '../statistics/seeded-random';
import { openTestDatabase, type TestDatabase } from '../support/database';
import { LINES_PER_LAB, storeRandomLabs } from './random-labs';
import { ENDED_BY_SQL, WORKLIST_BY_SQL } from './worklist-by-sql';

let database: TestDatabase;
let owner: pg.Client;
beforeAll(async () => {
  database = await openTestDatabase();
  owner = new pg.Client({ connectionString: database.ownerUrl });
  await owner.connect();
});
afterAll(async () => {
  const { closeRecords } = await import('@/lib/records/close');
  await closeRecords();
  await owner.end();
  await database.close();
});

const CASES = 10_000;
const LABS_AT_ONCE = 34;
const HORIZON_DAYS = 30;

const lineOf = (item: WorklistItem) =>
  `${item.caseCode} ${item.slot.code} ${item.state} ${item.daysLeft} ${item.daysOverdue} ${item.opensOn} ${item.dueOn} ${item.closesOn} ${item.slot.evidence} ${item.visitId ?? 'no visit'}`;

it('the worklist equals an independent SQL for 10,000 random schedules, each with its random history', async () => {
  const { actorOfProgram } = await import('@/lib/records/actor-of-program');
  const { readFollowedCases } = await import('@/lib/records/cases/followed');
  const draw = seededRandom(20_261_201);
  const seen = new Map<string, number>();
  let schedules = 0;
  while (schedules < CASES) {
    const labs = await storeRandomLabs(owner, draw, LABS_AT_ONCE);
    schedules += labs.length * LINES_PER_LAB;
    const asked = [labs.map(({ labId }) => labId), labs.map(({ today }) => today)];
    const { rows } = await owner.query(WORKLIST_BY_SQL, asked);
    const { rows: ended } = await owner.query(ENDED_BY_SQL, asked);
    const endedIn = new Map(ended.map((row) => [row.lab_id, Number(row.ended)]));
    for (const { labId, today } of labs) {
      const found = worklistOf(
        await readFollowedCases(await actorOfProgram('test', labId)),
        today,
        HORIZON_DAYS,
      );
      const ofLab = rows.filter((row) => row.lab_id === labId);
      const beyond = ofLab.filter((row) => row.state === 'upcoming' && row.days_left > HORIZON_DAYS);
      const listed = ofLab.filter((row) => row.state !== 'missed' && !beyond.includes(row));
      expect(found.items.map(lineOf)).toEqual(listed.map((row) => row.line));
      expect(found.missed.map(lineOf)).toEqual(
        ofLab.filter((row) => row.state === 'missed').map((row) => row.line),
      );
      expect(found.nextOpensOn).toBe(beyond.map((row) => row.opens_on).sort()[0] ?? null);
      expect(found.ended).toBe(endedIn.get(labId));
      for (const { state, awaits } of [...found.items, ...found.missed])
        seen.set(`${state} ${awaits}`, (seen.get(`${state} ${awaits}`) ?? 0) + 1);
    }
  }
  expect(schedules).toBeGreaterThanOrEqual(CASES);
  // The comparison has met every state that a slot can be in, often.
  for (const state of ['overdue', 'in-window', 'upcoming', 'missed'])
    for (const awaits of ['contact', 'recording'])
      expect(seen.get(`${state} ${awaits}`) ?? 0, `${state} ${awaits}`).toBeGreaterThan(100);
}, 240_000);

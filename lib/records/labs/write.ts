import 'server-only';
import { randomUUID } from 'node:crypto';
import type { EndpointRules } from '../../registry/endpoint-definition';
import type { ScheduleSlot } from '../../registry/follow-up-schedule';
import type { Actor } from '../actor';
import { GENESIS } from '../audit-chain';
import { database } from '../database';
import { record } from '../record';

/** A lab as it starts: no people, no cases; its trail begins with the definitions and the schedule. Answers the lab's id. */
export async function createLab(name: string): Promise<string> {
  const id = randomUUID();
  await database().$transaction(async (tx) => {
    await tx.lab.create({ data: { id, name } });
    await tx.auditHead.create({ data: { labId: id, seq: 0n, hash: GENESIS, dataVersion: 0n } });
  });
  return id;
}

/** How many labs, definitions and patients there are: programs ask before they fill a database. */
export async function countLabContents(): Promise<{ labs: number; definitions: number; patients: number }> {
  const [labs, definitions, patients] = await Promise.all([
    database().lab.count(),
    database().endpointDefinition.count(),
    database().patient.count(),
  ]);
  return { labs, definitions, patients };
}

export interface LabSetup {
  readonly labName: string;
  readonly definitions: readonly { name: string; note: string | null; rules: EndpointRules }[];
  readonly schedule: readonly ScheduleSlot[];
}

/** Gives a new lab its endpoint definitions and follow-up schedule, each as version 1, and notes the lab itself. */
export async function setUpLab(actor: Actor, setup: LabSetup): Promise<void> {
  const createdById = actor.kind === 'person' ? actor.id : null;
  await record(actor, { action: 'lab.set-up', reason: 'entered' }, async ({ tx, labId, note }) => {
    note({ entity: 'labs', entityId: labId, patientId: null, before: null, after: { name: setup.labName } });
    for (const { name, note: words, rules } of setup.definitions) {
      const row = { id: randomUUID(), name, note: words, rules, versionNumber: 1, createdById };
      await tx.endpointDefinition.create({ data: { labId, ...row } });
      note({ entity: 'endpoint_definitions', entityId: row.id, patientId: null, before: null, after: row });
    }
    const row = {
      id: randomUUID(),
      strategy: null,
      versionNumber: 1,
      slots: setup.schedule.map((slot) => ({ ...slot })),
      createdById,
    };
    await tx.followUpSchedule.create({ data: { labId, ...row } });
    note({ entity: 'follow_up_schedules', entityId: row.id, patientId: null, before: null, after: row });
    return { id: labId };
  });
}

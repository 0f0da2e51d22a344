import 'server-only';
import { type RecordRow, rewind, type TrailChange, type TrailRow } from '../../registry/record-rewind';
import type { Actor } from '../actor';
import { canonicalJson } from '../audit-chain';
import { database } from '../database';
import { readPeopleNames } from './people-names';
import { openedTrail } from './trail';

export interface EarlierRecord {
  /** Sequence number of the last change that is part of it, and when that was (UTC). */
  readonly seq: string;
  readonly at: string;
  /** Every row of the case and of its patient as it was then. */
  readonly rows: readonly RecordRow[];
}

/**
 * A case as it was right after a change, rebuilt from what is stored by taking back every later change. Null when the lab
 * has no such case or change, or the patient was erased.
 * @throws BrokenTrail when trail and record do not fit each other.
 */
export async function readCaseAt(
  actor: Actor,
  procedureId: string,
  seq: bigint,
): Promise<EarlierRecord | null> {
  const { labId } = actor;
  const procedure = await database().procedure.findUnique({
    where: { labId_id: { labId, id: procedureId } },
    select: { patientId: true },
  });
  if (!procedure) return null;
  const { patientId } = procedure;
  const entries = await openedTrail(actor, patientId, seq);
  const asked = entries?.find((entry) => entry.seq === seq);
  if (!entries || !asked) return null;
  const later = entries.filter((entry) => entry.seq > seq);
  // Device days come and go by the file, thousands at once: their trail is read as a whole, never row by row.
  const rowwise = later.filter(({ entity }) => entity !== 'device_days');
  const rows = rewind(await storedRows(labId, patientId), rowwise.map(changeOf));
  const names = await readPeopleNames(labId);
  return {
    seq: seq.toString(),
    at: asked.at.toISOString(),
    rows: rows
      .filter(({ row }) => row.procedureId === undefined || row.procedureId === procedureId)
      .map((entry) => ({ ...entry, row: withNames(entry.row, names) })),
  };
}

/** People by code and role instead of by id. */
const withNames = (row: TrailRow, names: ReadonlyMap<string, string>): TrailRow =>
  Object.fromEntries(
    Object.entries(row).map(([field, value]) => [
      field,
      field.endsWith('ById') ? (names.get(String(value)) ?? value) : value,
    ]),
  );

type Opened = NonNullable<Awaited<ReturnType<typeof openedTrail>>>[number];
const changeOf = ({ entity, entityId, payload }: Opened): TrailChange => ({
  entity,
  entityId,
  before: payload.before,
  after: payload.after,
});

/** Every row of a patient's record in the shape of the trail. Baselines are known there by their procedure. */
async function storedRows(labId: string, patientId: string): Promise<RecordRow[]> {
  const db = database();
  const ofPatient = { labId, patientId };
  const ofProcedures = { labId, procedure: { patientId } };
  const [patient, procedures, visits, recordings, drugs, cardioversions] = await Promise.all([
    db.patient.findMany({ where: { labId, id: patientId } }),
    db.procedure.findMany({ where: ofPatient }),
    db.followUpVisit.findMany({ where: ofPatient }),
    db.recording.findMany({ where: ofPatient }),
    db.drugEpisode.findMany({ where: ofPatient }),
    db.cardioversion.findMany({ where: ofPatient }),
  ]);
  const [baselines, lesions, complications, readmissions, applications, kept] = await Promise.all([
    db.baseline.findMany({ where: ofProcedures }),
    db.lesionElement.findMany({ where: ofProcedures }),
    db.complication.findMany({ where: ofProcedures }),
    db.readmission.findMany({ where: ofProcedures }),
    db.rfApplication.findMany({ where: ofProcedures }),
    db.keptValue.findMany({ where: ofProcedures }),
  ]);
  const rowsOf = <Row extends object>(entity: string, rows: readonly Row[], idOf: (row: Row) => string) =>
    rows.map((row) => ({ entity, entityId: idOf(row), row: trailRow(row) }));
  const byId = (row: { id: string }) => row.id;
  return [
    ...rowsOf('patients', patient, byId),
    ...rowsOf('procedures', procedures, byId),
    ...rowsOf('baselines', baselines, (row) => row.procedureId),
    ...rowsOf('lesion_elements', lesions, byId),
    ...rowsOf('complications', complications, byId),
    ...rowsOf('readmissions', readmissions, byId),
    ...rowsOf('rf_applications', applications, byId),
    ...rowsOf('kept_values', kept, byId),
    ...rowsOf('follow_up_visits', visits, byId),
    ...rowsOf('recordings', recordings, byId),
    ...rowsOf('drug_episodes', drugs, byId),
    ...rowsOf('cardioversions', cardioversions, byId),
  ];
}

const trailRow = (row: object): TrailRow => JSON.parse(canonicalJson(row));

import 'server-only';
import { ApplicationError } from '../runtime/application-error';
import { now } from '../runtime/clock';
import type { Actor } from './actor';
import { isActor } from './actor-seal';
import { refreshAnalysisRows } from './analysis-rows';
import { canonicalJson } from './audit-chain';
import { BulkConflict, conflictOf } from './bulk-conflict';
import { BULK_DEFAULTS, type BulkTable, type PlainRow, toColumns } from './bulk-rows';
import { database, Prisma, type Transaction } from './database';
import type * as Models from './generated/client';
import { appendToTrail } from './record';
import { encrypt, hashOutsideNumber, makePatientKey } from './sealing';

/** A patient with everything that belongs to them, ready to load. Ids are given by the caller; days are 'YYYY-MM-DD'. */
export interface BulkPatient {
  readonly patient: Omit<
    PlainRow<Models.Patient>,
    'hospitalNumberHash' | 'hospitalNumberKeyId' | 'importReferenceHash'
  >;
  /** Names the patient in the imported file. Kept as a keyed hash on the patient's row and nowhere else, the trail included. */
  readonly importReference?: string;
  readonly procedures: readonly PlainRow<Models.Procedure>[];
  readonly baselines: readonly PlainRow<Models.Baseline>[];
  readonly lesionElements: readonly PlainRow<Models.LesionElement>[];
  readonly complications: readonly PlainRow<Models.Complication>[];
  readonly readmissions: readonly PlainRow<Models.Readmission>[];
  readonly visits: readonly PlainRow<Models.FollowUpVisit>[];
  readonly recordings: readonly PlainRow<Models.Recording>[];
  readonly deviceDays: readonly PlainRow<Models.DeviceDay>[];
  readonly drugEpisodes: readonly PlainRow<Models.DrugEpisode>[];
  readonly cardioversions: readonly PlainRow<Models.Cardioversion>[];
}

/** The file a load comes from: the same file from the same source is published once. */
interface BulkSource {
  readonly id: string;
  readonly source: string;
  readonly fileSha256: Uint8Array<ArrayBuffer>;
  readonly rows: number;
  readonly published: number;
  readonly refused: number;
}

export interface BulkOrder {
  readonly action: 'lab.seed' | 'lab.import';
  readonly batch?: BulkSource;
  readonly onProgress?: (patientsDone: number) => void;
}

const CHUNK = 250;

/**
 * Loads new patients in one transaction, all or none: rows by set-based inserts, one sealed audit entry per chunk of 250
 * patients, analysis rows included. Throws BulkConflict, whose code says why, when the file was published before from the
 * same source, when a patient of it is here already, or when a patient code is taken.
 */
export async function bulkLoadPatients(
  actor: Actor,
  patients: readonly BulkPatient[],
  order: BulkOrder,
): Promise<void> {
  if (!isActor(actor)) throw new ApplicationError('unauthenticated', 'Please sign in.');
  const work = async (tx: Transaction): Promise<void> => {
    if (order.batch) await openBatch(tx, actor, order.batch);
    for (let start = 0; start < patients.length; start += CHUNK) {
      // Plans made while the tables were empty check foreign keys ever more slowly as they fill.
      if (start > 0) await tx.$executeRaw`DISCARD PLANS`;
      await loadChunk(tx, actor, order, patients.slice(start, start + CHUNK), start / CHUNK + 1);
      order.onProgress?.(Math.min(start + CHUNK, patients.length));
    }
  };
  try {
    await database().$transaction(work, { maxWait: 5_000, timeout: 600_000 });
  } catch (error) {
    throw conflictOf(error, order.batch?.source ?? order.action);
  }
}

async function openBatch(tx: Transaction, actor: Actor, batch: BulkSource): Promise<void> {
  const { labId } = actor;
  const earlier = await tx.importBatch.findFirst({
    where: { labId, source: batch.source, fileSha256: batch.fileSha256 },
  });
  if (earlier) {
    const day = earlier.createdAt.toISOString().slice(0, 10);
    throw new BulkConflict(
      'file-known',
      `This very file was imported on ${day} from "${batch.source}"; nothing was changed.`,
    );
  }
  const row = { ...batch, labId, createdAt: now(), createdById: actor.kind === 'person' ? actor.id : null };
  await tx.importBatch.create({ data: row });
  const payload = Buffer.from(canonicalJson({ reason: 'imported', before: null, after: row }));
  const item = {
    entity: 'import_batches',
    entityId: batch.id,
    patientId: null,
    sealed: false,
    payload,
  } as const;
  await appendToTrail(tx, actor, { action: 'import.publish' }, [item]);
}

async function loadChunk(
  tx: Transaction,
  actor: Actor,
  order: BulkOrder,
  chunk: readonly BulkPatient[],
  chunkNumber: number,
): Promise<void> {
  const { labId } = actor;
  const keys = chunk.map((entry) => ({ id: entry.patient.id, ...makePatientKey() }));
  await insert(
    tx,
    labId,
    'patients',
    chunk.map((entry) => ({ ...entry.patient, ...referenceHash(labId, entry) })),
  );
  await tx.patientKey.createMany({
    data: keys.map(({ id, wrapped, masterKeyId }) => ({
      labId,
      patientId: id,
      wrappedKey: wrapped,
      masterKeyId,
    })),
  });
  await insert(
    tx,
    labId,
    'procedures',
    chunk.flatMap((entry) => entry.procedures),
  );
  await insert(
    tx,
    labId,
    'baselines',
    chunk.flatMap((entry) => entry.baselines),
  );
  await insert(
    tx,
    labId,
    'lesion_elements',
    chunk.flatMap((entry) => entry.lesionElements),
  );
  await insert(
    tx,
    labId,
    'complications',
    chunk.flatMap((entry) => entry.complications),
  );
  await insert(
    tx,
    labId,
    'readmissions',
    chunk.flatMap((entry) => entry.readmissions),
  );
  await insert(
    tx,
    labId,
    'follow_up_visits',
    chunk.flatMap((entry) => entry.visits),
  );
  await insert(
    tx,
    labId,
    'recordings',
    chunk.flatMap((entry) => entry.recordings),
  );
  await insert(
    tx,
    labId,
    'device_days',
    chunk.flatMap((entry) => entry.deviceDays),
  );
  await insert(
    tx,
    labId,
    'drug_episodes',
    chunk.flatMap((entry) => entry.drugEpisodes),
  );
  await insert(
    tx,
    labId,
    'cardioversions',
    chunk.flatMap((entry) => entry.cardioversions),
  );
  await refreshAnalysisRows(
    tx,
    labId,
    keys.map(({ id }) => id),
  );
  // Each patient's values under the patient's own key: erasing one leaves the chunk's other patients readable.
  const sealed = chunk.map(({ importReference: _hidden, ...after }, i) => ({
    patientId: after.patient.id,
    box: encrypt(
      keys[i].key,
      Buffer.from(canonicalJson({ reason: order.action, before: null, after })),
    ).toString('base64'),
  }));
  const entityId = order.batch ? `${order.batch.id}#${chunkNumber}` : `${order.action}#${chunkNumber}`;
  const payload = Buffer.from(canonicalJson(sealed));
  await appendToTrail(tx, actor, order, [
    { entity: 'patients', entityId, patientId: null, sealed: true, payload },
  ]);
}

function referenceHash(labId: string, entry: BulkPatient): { importReferenceHash?: string } {
  if (entry.importReference === undefined) return {};
  const [newest] = hashOutsideNumber(labId, 'import-reference', entry.importReference);
  if (!newest) throw new Error('no identity key');
  return { importReferenceHash: `\\x${Buffer.from(newest.hash).toString('hex')}` };
}

async function insert(
  tx: Transaction,
  labId: string,
  table: BulkTable,
  rows: readonly object[],
): Promise<void> {
  if (rows.length === 0) return;
  const createdAt = now().toISOString();
  const json = JSON.stringify(
    rows.map((row) => toColumns({ ...BULK_DEFAULTS[table](createdAt), ...row, labId })),
  );
  const name = Prisma.raw(`"${table}"`);
  await tx.$executeRaw`INSERT INTO ${name} SELECT * FROM jsonb_populate_recordset(NULL::${name}, ${json}::jsonb)`;
}

import type { DeviceDay } from '../registry/device-days';
import type { DecodedDeviceDays } from './device-csv';
import type { DevicePlan, OnDifference } from './device-plan';

/** Under this name every file of device days stands among the imports. */
export const DEVICE_SOURCE = 'Device days';

/** The doors through which a file is written: the batch first, then patient after patient. */
export interface DevicePublishMeans {
  readonly openBatch: (file: {
    readonly source: string;
    readonly rows: number;
    readonly refused: number;
    readonly patientsPlanned: number;
  }) => Promise<string>;
  readonly storePatient: (
    batchId: string,
    patient: {
      readonly patientId: string;
      readonly version: number;
      readonly adds: readonly DeviceDay[];
      readonly replaces: readonly { readonly before: DeviceDay; readonly after: DeviceDay }[];
    },
  ) => Promise<void>;
  readonly onProgress?: (patientsDone: number, patientsPlanned: number) => void;
}

export interface PublishedDeviceDays {
  readonly batchId: string;
  readonly patients: number;
  readonly days: number;
}

/**
 * Writes a plan patient by patient, each whole or not at all, so that a long file can stop anywhere and go on later: the
 * same file again finds what is stored and adds the rest. Answers null when there is nothing to write.
 */
export async function publishDeviceDays(
  decoded: DecodedDeviceDays,
  plan: DevicePlan,
  onDifference: OnDifference,
  { openBatch, storePatient, onProgress }: DevicePublishMeans,
): Promise<PublishedDeviceDays | null> {
  const patients = plan.patients
    .map(({ patientId, version, adds, differing }) => ({
      patientId,
      version,
      adds,
      replaces: onDifference === 'replace' ? differing : [],
    }))
    .filter(({ adds, replaces }) => adds.length + replaces.length > 0);
  if (patients.length === 0) return null;
  const batchId = await openBatch({
    source: DEVICE_SOURCE,
    rows: decoded.rowsRead,
    refused: plan.refusals.length,
    patientsPlanned: patients.length,
  });
  for (const [index, patient] of patients.entries()) {
    await storePatient(batchId, patient);
    onProgress?.(index + 1, patients.length);
  }
  const days = patients.reduce((sum, { adds, replaces }) => sum + adds.length + replaces.length, 0);
  return { batchId, patients: patients.length, days };
}

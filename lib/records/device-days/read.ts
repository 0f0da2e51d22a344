import 'server-only';
import type { DeviceDay } from '../../registry/device-days';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import { decodeDeviceDay } from '../decode';

/** What a file of device days is checked against, for one patient that it names. */
export interface DevicePatient {
  readonly patientId: string;
  readonly code: string;
  readonly version: number;
  readonly birthYear: number;
  readonly firstPerformedOn: string | null;
  readonly diedOn: string | null;
  readonly consentWithdrawnOn: string | null;
  /** The patient's key is gone: nothing may be added. */
  readonly isErased: boolean;
  readonly storedDays: readonly DeviceDay[];
}

const CHUNK = 250;

/** The patients of the lab with these codes; a code that the lab does not know has no entry. */
export async function readDevicePatients(actor: Actor, codes: readonly string[]): Promise<DevicePatient[]> {
  const { labId } = actor;
  const db = database();
  const found: DevicePatient[] = [];
  for (let start = 0; start < codes.length; start += CHUNK) {
    const patients = await db.patient.findMany({
      where: { labId, code: { in: codes.slice(start, start + CHUNK) } },
      include: {
        key: { select: { destroyedAt: true } },
        procedures: { select: { performedOn: true }, orderBy: { performedOn: 'asc' }, take: 1 },
        deviceDays: { orderBy: { day: 'asc' } },
      },
    });
    found.push(
      ...patients.map((patient) => ({
        patientId: patient.id,
        code: patient.code,
        version: patient.version,
        birthYear: patient.birthYear,
        firstPerformedOn: dayFromDateOrNull(patient.procedures[0]?.performedOn ?? null),
        diedOn: dayFromDateOrNull(patient.diedOn),
        consentWithdrawnOn: dayFromDateOrNull(patient.consentWithdrawnOn),
        isErased: patient.key?.destroyedAt != null,
        storedDays: patient.deviceDays.map(decodeDeviceDay),
      })),
    );
  }
  return found;
}

/** Every device day of one patient, in order. */
export async function readDeviceDays(actor: Actor, patientId: string): Promise<DeviceDay[]> {
  const rows = await database().deviceDay.findMany({
    where: { labId: actor.labId, patientId },
    orderBy: { day: 'asc' },
  });
  return rows.map(decodeDeviceDay);
}

/** How many device days of a patient are stored, the first and the last; null without any. */
export async function readDeviceSpan(
  actor: Actor,
  patientId: string,
): Promise<{ readonly days: number; readonly firstDay: string; readonly lastDay: string } | null> {
  const { _count, _min, _max } = await database().deviceDay.aggregate({
    where: { labId: actor.labId, patientId },
    _count: { day: true },
    _min: { day: true },
    _max: { day: true },
  });
  if (!_min.day || !_max.day) return null;
  return { days: _count.day, firstDay: dayFromDate(_min.day), lastDay: dayFromDate(_max.day) };
}

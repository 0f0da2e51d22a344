import 'server-only';
import { type CalendarDay, daysBetween } from '../../registry/calendar-day';
import { BASELINE_CONDITIONS } from '../../registry/forms/baseline-entries';
import { earlyRecurrenceFact } from '../../registry/scores/early-recurrence';
import { yearsBetween } from '../../registry/scores/list';
import type { ScoreFacts } from '../../registry/scores/score';
import { AF_TYPES, SEXES } from '../../registry/vocabulary';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate } from '../day-edge';
import { decodeOrNull } from '../decode';

/** What the scores of a case ask for, as stored; null when the lab has no such case. */
export async function readScoreFacts(
  actor: Actor,
  procedureId: string,
  today: CalendarDay,
): Promise<ScoreFacts | null> {
  const { labId } = actor;
  const db = database();
  const [row, analysis] = await Promise.all([
    db.procedure.findUnique({
      where: { labId_id: { labId, id: procedureId } },
      include: { baseline: true, patient: { select: { sex: true } } },
    }),
    db.analysisRow.findUnique({
      where: { labId_procedureId: { labId, procedureId } },
      select: { evidence: true, daysToNext: true, daysToDeath: true },
    }),
  ]);
  if (!row) return null;
  const { baseline } = row;
  const performedOn = dayFromDate(row.performedOn);
  const year = Number(performedOn.slice(0, 4));
  const conditions = Object.fromEntries(BASELINE_CONDITIONS.map((name) => [name, baseline?.[name] ?? null]));
  return {
    ...(conditions as Record<(typeof BASELINE_CONDITIONS)[number], boolean | null>),
    ageYears: row.ageYears,
    sex: decodeOrNull(SEXES, row.patient.sex) ?? 'unknown',
    afType: decodeOrNull(AF_TYPES, baseline?.afType ?? null),
    afYears: baseline?.afSinceYear ? yearsBetween(baseline.afSinceYear, year) : null,
    laDiameterMm: baseline?.laDiameterMm ?? null,
    laAreaIndexCm2M2: baseline?.laAreaIndexCm2M2?.toNumber() ?? null,
    lvefPct: baseline?.lvefPct ?? null,
    bmiKgM2: baseline?.bmiKgM2?.toNumber() ?? null,
    egfrMlMin173m2: baseline?.egfrMlMin173m2 ?? null,
    failedAntiarrhythmics: baseline?.failedAntiarrhythmics ?? null,
    earlyRecurrence: earlyRecurrenceFact(analysis?.evidence ?? [], {
      daysSince: daysBetween(performedOn, today),
      daysToNext: analysis?.daysToNext ?? null,
      daysToDeath: analysis?.daysToDeath ?? null,
    }),
  };
}

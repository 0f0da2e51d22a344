import 'server-only';
import { burdenView } from '@/lib/analysis/follow-up/burden';
import { caseUnderDefinitions } from '@/lib/analysis/follow-up/first-episodes';
import { readCaseEvidence } from '@/lib/records/cases/evidence';
import { readCohort } from '@/lib/records/cohort';
import { readDeviceDays } from '@/lib/records/device-days/read';
import { readEndpointDefinitions } from '@/lib/records/endpoint-definitions/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { openCase } from '../../load';

/** What the patient's implanted device counted, and what each endpoint definition makes of the case. */
export async function loadBurden(typedId: string) {
  const { actor, head, may, standing } = await openCase(typedId, 'cases.read');
  const [days, known, cohort, definitions] = await Promise.all([
    readDeviceDays(actor, head.patientId),
    readCaseEvidence(actor, head.id),
    readCohort(actor),
    readEndpointDefinitions(actor),
  ]);
  const view = burdenView({
    days,
    performedOn: calendarDay(head.performedOn),
    procedures: head.procedures.map(({ ordinal, performedOn }) => ({
      ordinal,
      performedOn: calendarDay(performedOn),
    })),
    daysToNext: known?.daysToNext ?? null,
  });
  return { head, may, standing, view, underDefinitions: caseUnderDefinitions(cohort, head.id, definitions) };
}

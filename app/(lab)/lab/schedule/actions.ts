'use server';

import { writeAction } from '@/lib/access/action';
import { dropDraft, keepDraft } from '@/lib/records/drafts/write';
import { readSchedules } from '@/lib/records/schedules/read';
import { recordSchedule } from '@/lib/records/schedules/write';
import { calendarDay } from '@/lib/registry/calendar-day';
import { isRefused } from '@/lib/registry/findings';
import { SCHEDULE_LABELS } from '@/lib/registry/forms/field-labels';
import { checkSchedule } from '@/lib/registry/forms/schedule-checks';
import { scheduleFormSchema, scheduleSaveSchema, typedOfForm } from '@/lib/registry/forms/schedule-form';
import type { WriteResult } from '@/lib/registry/write-result';
import { ApplicationError } from '@/lib/runtime/application-error';
import { todayText } from '@/lib/runtime/clock';

const today = () => calendarDay(todayText());
const draftOfLab = (labId: string) => ({ form: 'schedule', subject: labId }) as const;

/** Checks a version and keeps it as this person's draft, for the page that shows what it would move. Stores no version. */
export async function lookAtSchedule(input: unknown): Promise<WriteResult> {
  const look = writeAction(
    { permission: 'schedule.write', schema: scheduleFormSchema, labels: SCHEDULE_LABELS },
    async ({ actor }, values) => {
      const findings = checkSchedule(values, { today: today(), schedules: await readSchedules(actor) });
      if (isRefused(findings)) return { kind: 'invalid', findings };
      const at = await keepDraft(actor, { ...draftOfLab(actor.labId), values: { ...typedOfForm(values) } });
      if (at === null) throw new ApplicationError('internal', 'the draft of a schedule was not kept');
      return {
        kind: 'saved',
        id: actor.labId,
        version: 1,
        message: 'Nothing is stored yet. This is what would move.',
        href: '/lab/schedule/preview',
      };
    },
  );
  return look(input);
}

/** Stores the version that was looked at. */
export async function saveSchedule(input: unknown): Promise<WriteResult> {
  const save = writeAction(
    { permission: 'schedule.write', schema: scheduleSaveSchema, labels: SCHEDULE_LABELS },
    async ({ actor, request }, values) => {
      const { id, versionNumber } = await recordSchedule(actor, values, today(), request);
      await dropDraft(actor, draftOfLab(actor.labId));
      return {
        kind: 'saved',
        id,
        version: versionNumber,
        message: `Version ${versionNumber} is stored and takes effect on ${values.effectiveOn}.`,
        href: `/lab/schedule/${id}`,
      };
    },
  );
  return save(input);
}

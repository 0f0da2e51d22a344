import type { Metadata } from 'next';
import { ScheduleRecordForm } from '@/components/registry/schedule-record-form';
import { PageHead } from '@/components/ui/page-head';
import { draftOf } from '../../../drafts/draft-of';
import { lookAtSchedule } from '../actions';
import { loadScheduleForm } from '../load';

export const metadata: Metadata = { title: 'New version of a schedule' };

interface PageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function NewSchedule({ searchParams }: PageProps) {
  const { labId, values, context, draft } = await loadScheduleForm(await searchParams);
  return (
    <>
      <PageHead
        title="Make a new version of a schedule"
        lede="It begins as what holds now. Nothing is stored before you have seen what moves."
      />
      <ScheduleRecordForm
        action={lookAtSchedule}
        values={values}
        context={context}
        draft={draftOf('schedule', labId, draft)}
      />
    </>
  );
}

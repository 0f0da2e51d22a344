import type { Metadata } from 'next';
import { spellDay } from '@/components/forms/day-text';
import { ScheduleSaveForm } from '@/components/registry/schedule-record-form';
import { ScheduleTable } from '@/components/registry/schedule-table';
import { LinkButton } from '@/components/ui/button';
import { EmptyState } from '@/components/ui/empty-state';
import { Notice } from '@/components/ui/notice';
import { PageHead } from '@/components/ui/page-head';
import { Ribbon } from '@/components/ui/ribbon';
import { MarginNote, Spread } from '@/components/ui/spread';
import { typedOfForm } from '@/lib/registry/forms/schedule-form';
import { linesOfSchedule } from '@/lib/registry/schedule-differences';
import { versionWords } from '@/lib/registry/schedule-words';
import { saveSchedule } from '../actions';
import { loadPreview } from '../load';
import { Moves, movesSentence } from '../moves-shown';

export const metadata: Metadata = { title: 'What a new version moves' };

interface PageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function PreviewSchedule({ searchParams }: PageProps) {
  const preview = await loadPreview(await searchParams);
  if (preview === null) return <NothingToShow />;
  const { form, version, previous, findings, moves } = preview;
  return (
    <>
      <PageHead
        title={movesSentence(moves)}
        lede={`${versionWords(version)}, from ${spellDay(form.effectiveOn)}. It is not stored yet.`}
      />
      <Ribbon
        items={[
          { label: 'Takes effect', value: form.effectiveOn },
          {
            label: 'Contacts',
            value: version.slots.length === 0 ? 'as for all strategies' : version.slots.length,
          },
        ]}
        actions={<LinkButton href="/lab/schedule/new?again=1">Change it again</LinkButton>}
      />
      <Spread margin={<PreviewMargin />}>
        {findings.length > 0 ? (
          <Notice kind="caution" title="Please check">
            <ul>
              {findings.map(({ field, message }) => (
                <li key={`${field} ${message}`}>{message}</li>
              ))}
            </ul>
          </Notice>
        ) : null}
        <h2>What moves</h2>
        <Moves moves={moves} base="/lab/schedule/preview" />
        {version.slots.length > 0 ? (
          <>
            <h2>The version</h2>
            <ScheduleTable caption={versionWords(version)} lines={linesOfSchedule(version.slots, previous)} />
          </>
        ) : null}
        <ScheduleSaveForm
          action={saveSchedule}
          values={{ ...typedOfForm(form), follows: version.versionNumber - 1 }}
          saveLabel={`Store version ${version.versionNumber}`}
        />
      </Spread>
    </>
  );
}

function PreviewMargin() {
  return (
    <MarginNote title="How it is counted">
      <p>
        Over the cases of today whose plan runs: a case that is registered later is planned by the same rule.
        A contact that took place, or whose window is open when the version takes effect, does not move.
      </p>
      <p>
        A contact counts as moved when one is dropped and one of its kind is added whose windows meet. Each
        count opens its cases.
      </p>
    </MarginNote>
  );
}

function NothingToShow() {
  return (
    <>
      <PageHead title="There is no version to look at" />
      <EmptyState
        title="Nothing is drafted"
        action={<LinkButton href="/lab/schedule/new">Make a new version</LinkButton>}
      >
        <p>
          A version is shown here once its form is complete. What was typed and not finished is offered again
          on the form.
        </p>
      </EmptyState>
    </>
  );
}

'use client';

import { Button } from '@/components/ui/button';
import { DefinitionList } from '@/components/ui/definition-list';
import { Notice } from '@/components/ui/notice';
import { FindingTable } from '../finding-table';
import styles from '../import-form.module.css';
import type { DeviceCheck } from './check-answer';
import type { Progress } from './use-progress';

/** What the person decided about the rows that need a decision. */
export interface Decisions {
  readonly acceptRefused: boolean;
  readonly onDifference: 'keep' | 'replace' | '';
}

interface DeviceReportProps {
  readonly checked: Extract<DeviceCheck, { kind: 'checked' }>;
  readonly decisions: Decisions;
  readonly onDecide: (decisions: Decisions) => void;
  readonly busy: boolean;
  readonly progress: Progress | null;
  readonly onPublish: () => void;
}

const figure = (count: number): string => count.toLocaleString('en-GB');

/** What publishing would write, what needs a decision, and the button that does it. */
export function DeviceReport({ checked, decisions, onDecide, busy, progress, onPublish }: DeviceReportProps) {
  const { report, refusedRows } = checked;
  const replaced = decisions.onDifference === 'replace' ? report.daysDiffering : 0;
  const days = report.daysToAdd + replaced;
  const isDecided =
    (refusedRows === 0 || decisions.acceptRefused) &&
    (report.daysDiffering === 0 || decisions.onDifference !== '');
  const added = report.span
    ? `${figure(report.daysToAdd)} (${report.span.firstDay} to ${report.span.lastDay})`
    : '0';
  return (
    <>
      <h2>What the file would write</h2>
      <DefinitionList
        items={[
          { term: 'Rows read', detail: `${figure(report.rowsRead)}, burden in ${report.unit}` },
          { term: 'Patients', detail: figure(report.patients) },
          { term: 'Days to add', detail: added },
          { term: 'Of these with arrhythmia', detail: figure(report.withArrhythmia) },
          { term: 'Days stored already', detail: figure(report.daysKnown) },
          { term: 'Days stored with other values', detail: figure(report.daysDiffering) },
          { term: 'Rows refused', detail: figure(refusedRows) },
        ]}
      />
      <ul className={styles.notes}>
        {report.notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
      {refusedRows > 0 ? (
        <FindingTable what="Refused rows" findings={report.refusals} total={refusedRows} />
      ) : null}
      {refusedRows > 0 && report.patients > 0 ? (
        <label className={styles.accept}>
          <input
            type="checkbox"
            checked={decisions.acceptRefused}
            onChange={(event) => onDecide({ ...decisions, acceptRefused: event.currentTarget.checked })}
          />
          {refusedRows === 1
            ? 'Leave the refused row out'
            : `Leave the ${figure(refusedRows)} refused rows out`}
        </label>
      ) : null}
      {report.daysDiffering > 0 ? (
        <Differences checked={checked} decisions={decisions} onDecide={onDecide} />
      ) : null}
      {report.patients === 0 ? (
        <Notice kind="plain" title="Nothing to write">
          <p>Everything that the file may add is stored already.</p>
        </Notice>
      ) : (
        <Button weight="primary" disabled={!isDecided || days === 0} busy={busy} onClick={onPublish}>
          {busy ? 'Writing' : `Write ${figure(days)} ${days === 1 ? 'day' : 'days'}`}
        </Button>
      )}
      {busy ? <Writing progress={progress} /> : null}
    </>
  );
}

function Differences({
  checked,
  decisions,
  onDecide,
}: Pick<DeviceReportProps, 'checked' | 'decisions' | 'onDecide'>) {
  const { differences, daysDiffering } = checked.report;
  const choices = [
    { code: 'keep', label: 'Keep what is stored' },
    { code: 'replace', label: 'Replace it by what the file says' },
  ] as const;
  return (
    <>
      <FindingTable what="Days stored with other values" findings={differences} total={daysDiffering} />
      <fieldset className={styles.decision}>
        <legend>What to do with days that are stored with other values</legend>
        {choices.map(({ code, label }) => (
          <label key={code} className={styles.accept}>
            <input
              type="radio"
              name="onDifference"
              value={code}
              checked={decisions.onDifference === code}
              onChange={() => onDecide({ ...decisions, onDifference: code })}
            />
            {label}
          </label>
        ))}
      </fieldset>
    </>
  );
}

function Writing({ progress }: { progress: Progress | null }) {
  return (
    <div className={styles.progress}>
      <label htmlFor="device-progress">
        {progress
          ? `${figure(progress.done)} of ${figure(progress.planned)} patients written`
          : 'Writing patient by patient'}
      </label>
      <progress
        id="device-progress"
        {...(progress ? { value: progress.done, max: Math.max(1, progress.planned) } : {})}
      />
      <p>You may leave this page: the writing goes on. If the server stops, give the same file again.</p>
    </div>
  );
}

'use client';

import { Button } from '@/components/ui/button';
import { DefinitionList } from '@/components/ui/definition-list';
import { Notice } from '@/components/ui/notice';
import type { NamedCount } from '@/lib/exchange/rhythm-report';
import type { CheckAnswer } from './check-answer';
import { FindingTable } from './finding-table';
import styles from './import-form.module.css';

interface CheckReportProps {
  readonly checked: Extract<CheckAnswer, { kind: 'checked' }>;
  readonly acceptRefused: boolean;
  readonly onAccept: (accept: boolean) => void;
  readonly busy: boolean;
  readonly onPublish: () => void;
}

const figure = (count: number): string => count.toLocaleString('en-GB');
const list = (counts: readonly NamedCount[]): string =>
  counts.map(({ name, count }) => `${name}: ${figure(count)}`).join('; ');

/** What publishing would write, what it refuses and why, and the button that does it. */
export function CheckReport({ checked, acceptRefused, onAccept, busy, onPublish }: CheckReportProps) {
  const { report, refusedRows, importedOn } = checked;
  const mayPublish = report.patients > 0 && importedOn === null && (refusedRows === 0 || acceptRefused);
  return (
    <>
      <h2>What the file would write</h2>
      <DefinitionList
        items={[
          { term: 'Rows read', detail: figure(report.rowsRead) },
          {
            term: 'Patients',
            detail:
              report.patients === 0 ? '0' : `${figure(report.patients)} (${list(report.patientsByGroup)})`,
          },
          {
            term: 'Readings',
            detail:
              report.readings === 0 ? '0' : `${figure(report.readings)} (${list(report.readingsByRhythm)})`,
          },
          {
            term: 'Days after the procedure',
            detail: report.days ? `${report.days.first} to ${report.days.last}` : 'no reading accepted',
          },
          { term: 'Rows refused', detail: figure(refusedRows) },
          { term: 'Patients left out whole', detail: figure(report.patientsLeftOut) },
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
      {importedOn === null ? null : (
        <Notice kind="plain" title="Imported before">
          <p>This very file was imported on {importedOn} from the same source. There is nothing to write.</p>
        </Notice>
      )}
      {refusedRows > 0 && report.patients > 0 && importedOn === null ? (
        <label className={styles.accept}>
          <input
            type="checkbox"
            checked={acceptRefused}
            onChange={(event) => onAccept(event.currentTarget.checked)}
          />
          {refusedRows === 1
            ? 'Leave the refused row out'
            : `Leave the ${figure(refusedRows)} refused rows out`}
        </label>
      ) : null}
      {report.patients > 0 && importedOn === null ? (
        <Button weight="primary" disabled={!mayPublish} busy={busy} onClick={onPublish}>
          {busy
            ? 'Working'
            : `Write ${figure(report.patients)} patients and ${figure(report.readings)} readings`}
        </Button>
      ) : null}
    </>
  );
}

'use client';

import { type ChangeEvent, useId, useState } from 'react';
import { useFormContext } from 'react-hook-form';
import { Notice } from '@/components/ui/notice';
import type { LesionValues } from '@/lib/registry/forms/lesion-values';
import { millivoltText } from '@/lib/registry/millivolt';
import {
  APPLICATION_COLUMNS,
  type ApplicationFileAnswer,
  applicationFlags,
  applicationsBySegment,
  MOST_FILE_BYTES,
  NEEDED_COLUMNS,
  type RfApplication,
  readApplication,
  totalsInWords,
} from '@/lib/registry/rf-applications';
import styles from './application-file.module.css';
import type { LesionCells } from './use-lesion-cells';

export type ReadFile = (upload: { fileText: string; byteCount: number }) => Promise<ApplicationFileAnswer>;

interface ApplicationFileProps {
  readonly readFile: ReadFile;
  readonly cells: LesionCells;
  readonly onFilled: () => void;
}

interface Outcome {
  readonly title: string;
  readonly kind: 'good' | 'harm';
  readonly lines: readonly string[];
}

const failed = (...lines: string[]): Outcome => ({ kind: 'harm', title: 'Nothing was filled in', lines });

/** A file of single applications fills the set: numbers, seconds and amplitudes of each segment it names. */
export function ApplicationFile({ readFile, cells, onFilled }: ApplicationFileProps) {
  const { setValue } = useFormContext<LesionValues>();
  const [outcome, setOutcome] = useState<Outcome>();
  const id = useId();

  const take = async (file: File): Promise<Outcome> => {
    if (file.size > MOST_FILE_BYTES) return failed(`The file is larger than ${MOST_FILE_BYTES / 1000} kB.`);
    const bytes = new Uint8Array(await file.arrayBuffer());
    const answer = await readFile({ fileText: textOf(bytes), byteCount: bytes.length });
    if (answer.kind === 'unauthenticated') {
      return failed(
        'Your session has ended. Save the form to sign in again, then choose the file once more.',
      );
    }
    if (answer.kind === 'refused') {
      return failed(
        ...answer.findings,
        ...(answer.more > 0 ? [`And ${answer.more} more of this kind.`] : []),
      );
    }
    const rows = answer.rows.map((row) => [...row]);
    const applications = rows.flatMap((row): RfApplication[] => {
      const reading = readApplication(row);
      return reading.kind === 'read' ? [reading.application] : [];
    });
    setValue('applications', rows, { shouldDirty: true });
    const segments = fillFrom(applications, cells);
    onFilled();
    const words = `${totalsInWords(applications)}; ${segments} segments and lines filled. Check them in the table, then save.`;
    return { kind: 'good', title: 'Read and filled in', lines: [words, ...applicationFlags(applications)] };
  };
  const choose = async (event: ChangeEvent<HTMLInputElement>) => {
    const input = event.currentTarget;
    const [file] = input.files ?? [];
    if (!file) return;
    setOutcome(
      await take(file).catch((error: unknown) =>
        failed(
          error instanceof TypeError
            ? 'The file could not be read as text in UTF-8, or the server did not answer. Choose it again.'
            : 'The file could not be read. Choose it again.',
        ),
      ),
    );
    // The same file, mended, may be chosen again.
    input.value = '';
  };
  return (
    <details className={styles.file}>
      <summary>Fill the set from a file of single applications</summary>
      <label htmlFor={id}>CSV, up to {MOST_FILE_BYTES / 1000} kB</label>
      <input
        id={id}
        type="file"
        accept=".csv,.txt,text/csv"
        aria-describedby={`${id}-hint`}
        onChange={(event) => void choose(event)}
      />
      <p id={`${id}-hint`} className={styles.hint}>
        One row for each application, in the order of time. Columns: {APPLICATION_COLUMNS.join(', ')}; needed
        are {NEEDED_COLUMNS.join(', ')}. Structures and segments are written as in the data dictionary, for
        example left-pair and anterior-carina. What the file tells of a segment takes the place of what stands
        there.
      </p>
      <div role="status">
        {outcome ? (
          <Notice kind={outcome.kind} title={outcome.title}>
            <ul>
              {outcome.lines.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </Notice>
        ) : null}
      </div>
    </details>
  );
}

/** Keeps a mark at the beginning, so that the bytes can be counted again; throws TypeError on another encoding. */
const textOf = (bytes: Uint8Array): string =>
  new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);

/** Writes what the applications add up to into the cells of their segments; answers how many segments. */
function fillFrom(applications: readonly RfApplication[], cells: LesionCells): number {
  const segments = applicationsBySegment(applications);
  for (const { structure, segment, ...sums } of segments) {
    const place = { structure, segment };
    cells.change(place, 'state', 'done');
    cells.change(place, 'applications', String(sums.applications));
    cells.change(place, 'totalSeconds', String(sums.totalSeconds));
    cells.change(place, 'longestSeconds', String(sums.longestSeconds));
    if (sums.amplitudeBeforeUv !== null)
      cells.change(place, 'amplitudeBefore', millivoltText(sums.amplitudeBeforeUv));
    if (sums.amplitudeAfterUv !== null)
      cells.change(place, 'amplitudeAfter', millivoltText(sums.amplitudeAfterUv));
  }
  return segments.length;
}

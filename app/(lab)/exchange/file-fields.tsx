'use client';

import type { ChangeEvent } from 'react';
import { Field } from '@/components/forms/field';
import type { Finding } from '@/lib/registry/findings';
import styles from './import-form.module.css';
import type { ChosenFile } from './read-file';
import { MAX_UPLOAD_BYTES } from './upload-limits';

interface FileFieldsProps {
  readonly file: ChosenFile | undefined;
  readonly mapping: string;
  readonly findings: readonly Finding[];
  readonly onFile: (event: ChangeEvent<HTMLInputElement>) => void;
  readonly onMapping: (text: string) => void;
}

/** The CSV, and the mapping that says how it is read: typed here, or taken from a file. */
export function FileFields({ file, mapping, findings, onFile, onMapping }: FileFieldsProps) {
  const errorOf = (name: string): string | undefined => {
    const messages = findings.filter(({ field }) => field === name).map(({ message }) => message);
    return messages.length > 0 ? messages.join(' ') : undefined;
  };
  const takeMapping = async (event: ChangeEvent<HTMLInputElement>) => {
    const [chosen] = event.currentTarget.files ?? [];
    // More than a mapping may hold is cut here and refused there, where it is told.
    if (chosen) onMapping(await chosen.slice(0, 100_000).text());
  };
  return (
    <>
      <Field
        id="rhythm-file"
        name="file"
        label="Rhythm readings, CSV"
        required
        error={errorOf('file')}
        hint={
          file
            ? `Read: ${file.byteCount.toLocaleString('en-GB')} bytes.`
            : `One row per reading, the first line names the columns, up to ${MAX_UPLOAD_BYTES / 1_000_000} MB.`
        }
      >
        {(control) => (
          <input
            {...control}
            type="file"
            accept=".csv,.txt,text/csv"
            className={styles.file}
            onChange={onFile}
          />
        )}
      </Field>
      <Field
        id="mapping-text"
        name="mapping"
        label="Mapping"
        required
        error={errorOf('mapping')}
        hint="What each column and code means, and the day of the procedures. This is a complete example: change it to suit the file."
      >
        {(control) => (
          <textarea
            {...control}
            className={styles.mapping}
            rows={15}
            spellCheck={false}
            value={mapping}
            onChange={(event) => onMapping(event.currentTarget.value)}
          />
        )}
      </Field>
      <Field
        id="mapping-file"
        name="mappingFile"
        label="Or take the mapping from a file"
        hint="It fills the field above."
      >
        {(control) => (
          <input
            {...control}
            type="file"
            accept=".json,application/json"
            className={styles.file}
            onChange={(event) => void takeMapping(event)}
          />
        )}
      </Field>
    </>
  );
}

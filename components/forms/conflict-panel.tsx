'use client';

import { useEffect, useId, useRef, useState } from 'react';
import { Button } from '@/components/ui/button';
import type { ConflictField, FormValue } from '@/lib/registry/write-result';
import styles from './conflict-panel.module.css';

export type ConflictChoice = 'mine' | 'stored';

interface ConflictPanelProps {
  readonly fields: readonly ConflictField[];
  /** Words for a value (a label for a code); the value itself without it. */
  readonly wordsFor?: ((field: string, value: FormValue) => string) | undefined;
  readonly onResolve: (choices: ReadonlyMap<string, ConflictChoice>) => void;
}

function wordsOf(value: FormValue): string {
  if (value === null || value === '') return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return String(value);
}

/** Somebody else stored this entry in the meantime: both values of each field that differs, and a choice for each. */
export function ConflictPanel({ fields, wordsFor, onResolve }: ConflictPanelProps) {
  const box = useRef<HTMLElement>(null);
  const titleId = useId();
  const [choices, setChoices] = useState<ReadonlyMap<string, ConflictChoice>>(new Map());
  const [asked, setAsked] = useState(false);
  useEffect(() => box.current?.focus(), []);
  const open = fields.filter((field) => !choices.has(field.field)).length;
  const choose = (field: string, choice: ConflictChoice) => setChoices(new Map(choices).set(field, choice));
  const words = (field: string, value: FormValue) =>
    value === null || value === '' ? wordsOf(value) : (wordsFor?.(field, value) ?? wordsOf(value));
  return (
    <section ref={box} tabIndex={-1} className={styles.panel} aria-labelledby={titleId}>
      <h2 id={titleId}>Not saved: somebody else changed this entry while you were typing</h2>
      <p>Nothing is lost. Choose for each field which value is right, then save.</p>
      <div className={styles.scroll}>
        <table>
          <thead>
            <tr>
              <th scope="col">Field</th>
              <th scope="col">What you typed</th>
              <th scope="col">What is stored now</th>
            </tr>
          </thead>
          <tbody>
            {fields.map((field) => (
              <tr key={field.field}>
                <th scope="row">{field.label}</th>
                {(['mine', 'stored'] as const).map((choice) => (
                  <td key={choice}>
                    <label>
                      <input
                        type="radio"
                        name={`${titleId}-${field.field}`}
                        checked={choices.get(field.field) === choice}
                        onChange={() => choose(field.field, choice)}
                      />
                      <span>
                        {words(field.field, choice === 'mine' ? field.yours : field.stored)}
                        <span className={styles.word}>{choice === 'mine' ? 'keep mine' : 'take stored'}</span>
                      </span>
                    </label>
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {asked && open > 0 ? (
        <p role="alert" className={styles.open}>
          {open === 1 ? 'One field is still without a choice.' : `${open} fields are still without a choice.`}
        </p>
      ) : null}
      <Button
        weight="primary"
        onClick={() => {
          if (open > 0) setAsked(true);
          else onResolve(choices);
        }}
      >
        Save with these choices
      </Button>
    </section>
  );
}

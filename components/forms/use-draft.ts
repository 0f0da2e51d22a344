'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import type { FieldValues, UseFormReturn } from 'react-hook-form';
import type { DraftAnswer, DraftForm, DraftInput, DraftPlace, StoredDraft } from '@/lib/registry/draft-forms';

/** Where a form's unfinished values are kept, and what is kept already. */
export interface DraftKeeping {
  readonly form: DraftForm;
  readonly subject: string;
  /** What was left unfinished earlier; null without. */
  readonly stored: StoredDraft | null;
  readonly keep: (input: DraftInput) => Promise<DraftAnswer>;
  readonly drop: (place: DraftPlace) => Promise<void>;
}

/** Typing pauses this long before the values are sent; with the way to the server it stays below 2 s. */
const PAUSE_MS = 1000;
/** Someone who types without a pause is kept all the same. */
const LONGEST_WAIT_MS = 1500;

const UNREACHED: DraftAnswer = {
  kind: 'notKept',
  message: 'The server did not answer: the draft is not kept. What you typed is still on this page.',
};

/**
 * Keeps the values of a form on the server while they are typed. `isCurrent`: everything typed is kept, so that leaving the
 * page loses nothing. A form without `keeping` keeps nothing.
 */
export function useDraft<Input extends FieldValues, Output extends FieldValues>(
  form: UseFormReturn<Input, unknown, Output>,
  keeping: DraftKeeping | undefined,
) {
  const [answer, setAnswer] = useState<DraftAnswer>();
  const [isCurrent, setCurrent] = useState(false);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const firstUnkept = useRef<number>(undefined);
  const change = useRef(0);
  const pending = useRef<Promise<void>>(Promise.resolve());
  const paused = useRef(false);
  const { subscribe, getValues } = form;

  const send = useCallback(async () => {
    if (!keeping) return;
    firstUnkept.current = undefined;
    const sentChange = change.current;
    const { form: name, subject } = keeping;
    const values: FieldValues = getValues();
    const arriving = keeping.keep({ form: name, subject, values }).catch(() => UNREACHED);
    pending.current = arriving.then(() => undefined);
    const given = await arriving;
    setAnswer(given);
    setCurrent(given.kind === 'kept' && given.flagged.length === 0 && sentChange === change.current);
  }, [keeping, getValues]);

  useEffect(() => {
    if (!keeping) return;
    const stop = subscribe({
      formState: { values: true },
      callback: ({ name }) => {
        // A reset has no name: nothing was typed.
        if (name === undefined || paused.current) return;
        change.current += 1;
        setCurrent(false);
        firstUnkept.current ??= Date.now();
        const waited = Date.now() - firstUnkept.current;
        clearTimeout(timer.current);
        timer.current = setTimeout(
          () => void send(),
          Math.max(0, Math.min(PAUSE_MS, LONGEST_WAIT_MS - waited)),
        );
      },
    });
    return () => {
      clearTimeout(timer.current);
      stop();
    };
  }, [keeping, subscribe, send]);

  /** While an entry is being stored nothing is sent behind it: the write itself takes the draft away. */
  const pause = useCallback((isPaused: boolean) => {
    paused.current = isPaused;
    clearTimeout(timer.current);
  }, []);

  /** Stored as an entry: what is kept of it is gone by now. */
  const settle = useCallback(() => {
    clearTimeout(timer.current);
    paused.current = false;
    setAnswer(undefined);
    setCurrent(false);
  }, []);

  /** Not wanted: the draft goes. */
  const forget = useCallback(() => {
    clearTimeout(timer.current);
    setAnswer(undefined);
    setCurrent(false);
    if (!keeping) return;
    const { form: name, subject, drop } = keeping;
    // A draft that is still on its way must not arrive after it was thrown away. Should the way back fail, the draft is
    // offered again the next time, and thrown away then.
    void pending.current.then(() => drop({ form: name, subject })).catch(() => undefined);
  }, [keeping]);

  return { answer, isCurrent, pause, settle, forget };
}

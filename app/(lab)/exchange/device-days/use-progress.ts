'use client';

import { useEffect, useState } from 'react';
import { z } from 'zod';

const answerSchema = z
  .strictObject({ done: z.int().min(0).max(1_000_000), planned: z.int().min(0).max(1_000_000) })
  .nullable();
export type Progress = NonNullable<z.infer<typeof answerSchema>>;

const EVERY_MS = 700;

/**
 * How many patients of a file are written, while `active`. Null until a count under the planned one was seen: before that
 * it may be the count of an earlier time that the same file was given. Never goes backwards.
 */
export function useProgress(sha256: string, active: boolean): Progress | null {
  const [progress, setProgress] = useState<Progress | null>(null);
  useEffect(() => {
    if (!active) return;
    setProgress(null);
    let isWaiting = false;
    const ask = async () => {
      if (isWaiting) return;
      isWaiting = true;
      const told = await askProgress(sha256);
      isWaiting = false;
      if (!told) return;
      setProgress((known) => {
        if (!known) return told.done < told.planned ? told : null;
        return told.done > known.done ? told : known;
      });
    };
    const timer = setInterval(() => void ask(), EVERY_MS);
    return () => clearInterval(timer);
  }, [sha256, active]);
  return active ? progress : null;
}

/** Null as well when no answer came: the import itself tells how it ended. */
async function askProgress(sha256: string): Promise<Progress | null> {
  try {
    const response = await fetch(`/api/imports/progress?file=${sha256}`, { cache: 'no-store' });
    if (!response.ok) return null;
    const told = answerSchema.safeParse(await response.json());
    return told.success ? told.data : null;
  } catch {
    return null;
  }
}

'use client';

import { createContext } from 'react';
import type { Finding } from '@/lib/registry/findings';

interface RecordFormContextValue {
  /** Begins the id of every control, so that two forms on a page do not share ids. */
  readonly formId: string;
  readonly warnings: readonly Finding[];
}

/** What a record form tells its fields. */
export const RecordFormContext = createContext<RecordFormContextValue>({ formId: 'form', warnings: [] });

import type { RhythmReport } from '@/lib/exchange/rhythm-report';
import type { Finding } from '@/lib/registry/findings';

/** Refused rows that a page lists; the command lists all. */
export const MAX_SHOWN_REFUSALS = 200;

/** What checking a file answers. Fields of findings: 'file', 'mapping', or '' for neither. */
export type CheckAnswer =
  | {
      readonly kind: 'checked';
      /** Its `refusals` are cut to MAX_SHOWN_REFUSALS. */
      readonly report: RhythmReport;
      readonly refusedRows: number;
      /** Day on which this very file was imported, or null. */
      readonly importedOn: string | null;
    }
  | { readonly kind: 'refused'; readonly findings: readonly Finding[] }
  | { readonly kind: 'unauthenticated' };

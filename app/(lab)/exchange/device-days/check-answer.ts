import type { DeviceReport } from '@/lib/exchange/device-report';
import type { Finding } from '@/lib/registry/findings';

/** Findings of each kind that a page lists; the command lists all. */
export const MAX_SHOWN = 200;

/** What checking a file of device days answers. */
export type DeviceCheck =
  | {
      readonly kind: 'checked';
      /** Its findings are cut to MAX_SHOWN. */
      readonly report: DeviceReport;
      readonly refusedRows: number;
    }
  | { readonly kind: 'refused'; readonly findings: readonly Finding[] }
  | { readonly kind: 'unauthenticated' };

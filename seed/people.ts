import type { OperatorCode } from './parameters';

/** Ids of those who appear in the rows; given by whoever loads them. */
export interface DemoPeople {
  readonly coordinatorId: string | null;
  readonly physicianId: string | null;
  readonly operatorIds: Readonly<Record<OperatorCode, string>>;
}

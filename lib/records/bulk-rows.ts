import 'server-only';
import type { CalendarDay } from '../registry/calendar-day';
import type { Prisma } from './generated/client';

/** Tables that a bulk load fills, in the order of their foreign keys. */
export type BulkTable =
  | 'patients'
  | 'procedures'
  | 'baselines'
  | 'lesion_elements'
  | 'complications'
  | 'readmissions'
  | 'follow_up_visits'
  | 'recordings'
  | 'device_days'
  | 'drug_episodes'
  | 'cardioversions';

type Plain<V> = V extends Date ? CalendarDay : V extends Prisma.Decimal ? number : V;
type Nullable<T> = { [K in keyof T]: null extends T[K] ? K : never }[keyof T];
type Defaulted =
  | 'version'
  | 'createdAt'
  | 'state'
  | 'veins'
  | 'drugs'
  | 'harms'
  | 'adjudicatedHarms'
  | 'drugsReviewed'
  | 'wholeTracing';
type Given<T> = Omit<{ [K in keyof T]: Plain<T[K]> }, 'labId' | 'version' | 'createdAt'>;

/** A stored row as plain values: days as text, decimals as numbers, the lab left to the loader; what may be null may be left out. */
export type PlainRow<T> = Omit<Given<T>, (Nullable<T> | Defaulted) & keyof Given<T>> &
  Partial<Pick<Given<T>, (Nullable<T> | Defaulted) & keyof Given<T>>>;

const versioned = () => ({ version: 1 });
const stamped = (createdAt: string) => ({ version: 1, createdAt });

/** What a row has when the caller says nothing: the set-based insert skips the database's own defaults. */
export const BULK_DEFAULTS: Record<BulkTable, (createdAt: string) => object> = {
  patients: stamped,
  procedures: (createdAt) => ({ ...stamped(createdAt), state: 'entered', veins: [] }),
  baselines: () => ({ ...versioned(), drugs: [] }),
  lesion_elements: versioned,
  complications: (createdAt) => ({ ...stamped(createdAt), harms: [], adjudicatedHarms: [] }),
  readmissions: stamped,
  follow_up_visits: (createdAt) => ({ ...stamped(createdAt), drugsReviewed: false }),
  recordings: (createdAt) => ({ ...stamped(createdAt), wholeTracing: false }),
  device_days: () => ({}),
  drug_episodes: stamped,
  cardioversions: stamped,
};

/** Field names as column names: laDiameterMm -> la_diameter_mm, laVolumeIndexMlM2 -> la_volume_index_ml_m2. */
export function toColumns(row: object): object {
  return Object.fromEntries(Object.entries(row).map(([name, value]) => [columnName(name), value]));
}

/** The column of a field; agrees with every @map of the schema (tested). */
export function columnName(field: string): string {
  if (field === 'egfrMlMin173m2') return 'egfr_ml_min_173m2';
  return field.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
}

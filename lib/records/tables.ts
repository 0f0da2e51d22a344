import 'server-only';

/** Clinical and administrative tables: written through `record`, which audits. Nothing else opens them for writing. */
export const RECORD_TABLES = [
  'labs',
  'users',
  'operators',
  'patients',
  'procedures',
  'baselines',
  'lesion_elements',
  'complications',
  'readmissions',
  'rf_applications',
  'kept_values',
  'follow_up_visits',
  'recordings',
  'device_days',
  'drug_episodes',
  'cardioversions',
  'endpoint_definitions',
  'follow_up_schedules',
  'import_batches',
] as const;
export type RecordTable = (typeof RECORD_TABLES)[number];

/** Working tables: written through `keep`, unaudited. */
export const KEEP_TABLES = ['drafts', 'write_requests', 'setup_links', 'sign_in_counters'] as const;

/** Written by `record` itself, as part of every write: keys, the trail, its head, the rows for analysis. */
export const OWN_TABLES = ['patient_keys', 'audit_entries', 'audit_heads', 'analysis_rows'] as const;

import type { Client } from 'pg';

export type Purpose = 'unmarked' | 'demo-loading' | 'demo' | 'production';
export interface LabState {
  purpose: Purpose;
  labs: number;
  definitions: number;
  patients: number;
  administrators: number;
}

export function readLabState(client: Client): Promise<LabState>;
export function markPurpose(client: Client, purpose: Exclude<Purpose, 'unmarked'>): Promise<void>;
export function requirePurpose(state: LabState, wanted: { isProduction: boolean }): void;

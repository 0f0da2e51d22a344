import type { Client } from 'pg';

export interface OpenDatabase {
  ownerUrl: string;
  appUrl: string;
  adminUrl: string;
  home: string;
  release: () => Promise<void>;
}

export const OWNER: string;
export const APP: string;
export const DATABASE: string;
export function openDatabase(options: {
  dataDir: string;
  log?: (line: string) => void;
}): Promise<OpenDatabase>;
export function ensureEmptyDatabase(client: Client): Promise<void>;

import type { Client } from 'pg';

export function rightsOn(table: string): string[];
export function grantRights(client: Client, role: string): Promise<void>;

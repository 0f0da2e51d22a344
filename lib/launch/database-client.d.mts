import type { Client } from 'pg';

export function withClient<T>(url: string, work: (client: Client) => Promise<T>): Promise<T>;

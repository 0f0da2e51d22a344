import { readSchemaVersion } from '@/lib/records/labs/health';

export const dynamic = 'force-dynamic';

/** 200 with the schema's version when the database answers, 503 otherwise. Says nothing else to strangers. */
export async function GET(): Promise<Response> {
  const headers = { 'cache-control': 'no-store' };
  const schemaVersion = await readSchemaVersion();
  return schemaVersion === null
    ? Response.json({ status: 'unavailable', database: 'unreachable' }, { status: 503, headers })
    : Response.json({ status: 'ok', database: 'reachable', schemaVersion }, { headers });
}

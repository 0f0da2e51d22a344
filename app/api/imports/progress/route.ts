import { z } from 'zod';
import { admit } from '@/lib/access/current-actor';
import { readImportProgress } from '@/lib/records/imports/read';

const fileSchema = z.string().regex(/^[0-9a-f]{64}$/);

/** How far the file with this SHA-256 has come, for the page that waits for it. */
export async function GET(request: Request): Promise<Response> {
  const admission = await admit('exchange.import');
  if (admission.kind === 'unauthenticated') return new Response(null, { status: 401 });
  if (admission.kind === 'forbidden') return new Response(null, { status: 403 });
  const file = fileSchema.safeParse(new URL(request.url).searchParams.get('file'));
  if (!file.success) return new Response(null, { status: 400 });
  const progress = await readImportProgress(admission.actor, new Uint8Array(Buffer.from(file.data, 'hex')));
  return Response.json(progress, { headers: { 'Cache-Control': 'no-store' } });
}

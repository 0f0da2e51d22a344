import type { NextRequest } from 'next/server';

export const dynamic = 'force-dynamic';

/**
 * Sends a reader who came by another host name to the lab's own address. proxy.ts leads here, because a redirect made there
 * is shortened to a path and would lead back to the wrong host for ever. Only a path of the lab itself is followed.
 */
export function GET(request: NextRequest): Response {
  const home = new URL(process.env.NEXTAUTH_URL ?? 'http://localhost:3000');
  const asked = new URL(request.nextUrl.searchParams.get('to') ?? '/', home);
  const isSound = asked.origin === home.origin && asked.pathname !== '/api/go-home';
  const target = isSound ? asked : home;
  return new Response(null, { status: 307, headers: { location: target.href, 'cache-control': 'no-store' } });
}

import { type NextRequest, NextResponse } from 'next/server';

/**
 * Runs before every request: sends other host names to the lab's own, refuses writes that do not come from its own pages,
 * and gives each page a nonce of its own. It is no lock: who may do what is decided in lib/access.
 */
export function proxy(request: NextRequest): NextResponse {
  const home = new URL(process.env.NEXTAUTH_URL ?? 'http://localhost:3000');
  const isHealth = request.nextUrl.pathname === '/api/health';
  if (request.headers.get('host') !== home.host && !isHealth) {
    if (!isRead(request.method))
      return new NextResponse('This address does not take entries.', { status: 403 });
    const detour = new URL('/api/go-home', request.url);
    detour.searchParams.set('to', askedPath(request));
    return NextResponse.rewrite(detour);
  }
  if (!isRead(request.method) && !comesFromHome(request, home)) {
    return new NextResponse('Entries are taken from the lab’s own pages only.', { status: 403 });
  }
  return withPolicy(request, home);
}

export const config = { matcher: [{ source: '/((?!_next/static|icon.svg).*)' }] };

const isRead = (method: string) => method === 'GET' || method === 'HEAD';

function comesFromHome(request: NextRequest, home: URL): boolean {
  const site = request.headers.get('sec-fetch-site');
  return request.headers.get('origin') === home.origin && (site === null || site === 'same-origin');
}

function withPolicy(request: NextRequest, home: URL): NextResponse {
  const nonce = Buffer.from(crypto.getRandomValues(new Uint8Array(16))).toString('base64');
  const development = process.env.NODE_ENV === 'development';
  const policy = [
    `default-src 'none'`,
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${development ? " 'unsafe-eval'" : ''}`,
    `style-src 'self' ${development ? "'unsafe-inline'" : `'nonce-${nonce}'`}`,
    `style-src-attr 'unsafe-inline'`,
    `img-src 'self' data: blob:`,
    `font-src 'self'`,
    `connect-src 'self'`,
    `form-action 'self'`,
    `frame-ancestors 'none'`,
    `base-uri 'none'`,
    `object-src 'none'`,
  ].join('; ');
  const headers = new Headers(request.headers);
  headers.set('x-nonce', nonce);
  // Pages do not learn their own address otherwise: sign-in leads back to it.
  headers.set('x-asked-path', askedPath(request));
  headers.set('content-security-policy', policy);
  const response = NextResponse.next({ request: { headers } });
  response.headers.set('content-security-policy', policy);
  response.headers.set('x-content-type-options', 'nosniff');
  response.headers.set('referrer-policy', 'no-referrer');
  response.headers.set('cross-origin-opener-policy', 'same-origin');
  response.headers.set('cross-origin-resource-policy', 'same-origin');
  if (home.protocol === 'https:') {
    response.headers.set('strict-transport-security', 'max-age=31536000; includeSubDomains');
  }
  return response;
}

/** The path that was asked for, without what the framework adds to it. */
function askedPath(request: NextRequest): string {
  const asked = new URL(request.nextUrl);
  asked.searchParams.delete('_rsc');
  return asked.pathname + asked.search;
}

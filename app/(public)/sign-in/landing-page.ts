const HOME = '/today';

/** Where to go after signing in: the page that was asked for, if it is one of ours; any other address means Today. */
export function landingPage(location: { readonly href: string; readonly origin: string }): string {
  const wanted = new URL(location.href).searchParams.get('callbackUrl');
  if (wanted === null || !URL.canParse(wanted, location.origin)) return HOME;
  const target = new URL(wanted, location.origin);
  const isElsewhere = target.origin !== location.origin || ['/', '/sign-in'].includes(target.pathname);
  if (isElsewhere) return HOME;
  return `${target.pathname}${target.search}${target.hash}`;
}

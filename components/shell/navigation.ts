/** One entry of the main navigation: where it leads, and the permission without which it is not shown. */
export interface NavigationItem {
  readonly href: `/${string}`;
  readonly label: string;
  readonly permission: string;
}

/** The rooms of the lab that exist. A page that is not built yet has no entry. */
export const NAVIGATION: readonly NavigationItem[] = [
  { href: '/today', label: 'Today', permission: 'today.read' },
  { href: '/cases', label: 'Cases', permission: 'cases.read' },
  { href: '/outcomes', label: 'Outcomes', permission: 'outcomes.read' },
  { href: '/exchange', label: 'Exchange', permission: 'exchange.read' },
  { href: '/lab', label: 'Lab', permission: 'lab.read' },
];

/** The entries that somebody with these permissions may open. */
export function navigationFor(permissions: readonly string[]): readonly NavigationItem[] {
  return NAVIGATION.filter((item) => permissions.includes(item.permission));
}

/** True when the address lies in this room: the room itself or anything below it. */
export function isWithin(pathname: string, href: string): boolean {
  return pathname === href || pathname.startsWith(`${href}/`);
}

import { cookies } from 'next/headers';
import { redirect } from 'next/navigation';
import type { ReactNode } from 'react';
import { navigationFor } from '@/components/shell/navigation';
import { Shell } from '@/components/shell/shell';
import { readTheme, THEME_COOKIE } from '@/components/shell/theme';
import { currentActor } from '@/lib/access/current-actor';
import { isAllowed, PERMISSIONS } from '@/lib/access/permissions';
import { labelOf, ROLES } from '@/lib/registry/vocabulary';
import { environment } from '@/lib/runtime/environment';
import { chooseTheme } from './actions';

/** The frame of the lab. It shows who is signed in; each page checks by itself what that person may do. */
export default async function LabLayout({ children }: { children: ReactNode }) {
  const actor = await currentActor();
  if (!actor) redirect('/sign-in');
  const permissions = PERMISSIONS.filter((permission) => isAllowed(actor.role, permission));
  return (
    <Shell
      items={navigationFor(permissions)}
      who={{ role: labelOf(ROLES, actor.role), code: actor.code }}
      demo={environment().AFTERBEAT_DEMO === '1'}
      theme={readTheme((await cookies()).get(THEME_COOKIE)?.value)}
      chooseTheme={chooseTheme}
    >
      {children}
    </Shell>
  );
}

import { cookies } from 'next/headers';
import type { ReactNode } from 'react';
import { navigationFor } from '@/components/shell/navigation';
import { Shell } from '@/components/shell/shell';
import { readTheme, THEME_COOKIE } from '@/components/shell/theme';
import { labelOf, ROLES } from '@/lib/registry/vocabulary';
import { environment } from '@/lib/runtime/environment';
import { chooseTheme } from './actions';
import { loadFrame } from './load';

/** The frame of the lab. It shows who is signed in; each page checks by itself what that person may do. */
export default async function LabLayout({ children }: { children: ReactNode }) {
  const { role, code, permissions, counts } = await loadFrame();
  return (
    <Shell
      items={navigationFor(permissions)}
      counts={{ '/cases': counts['/cases'].toLocaleString('en-GB') }}
      who={{ role: labelOf(ROLES, role), code }}
      demo={environment().AFTERBEAT_DEMO === '1'}
      theme={readTheme((await cookies()).get(THEME_COOKIE)?.value)}
      chooseTheme={chooseTheme}
    >
      {children}
    </Shell>
  );
}

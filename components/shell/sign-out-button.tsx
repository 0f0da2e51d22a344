'use client';

import { signOut } from 'next-auth/react';
import { useState } from 'react';
import { Button } from '@/components/ui/button';

/** Ends the session and goes to the sign-in page. */
export function SignOutButton() {
  const [leaving, setLeaving] = useState(false);
  return (
    <Button
      weight="quiet"
      busy={leaving}
      onClick={() => {
        setLeaving(true);
        signOut({ callbackUrl: '/sign-in' }).catch(() => setLeaving(false));
      }}
    >
      {leaving ? 'Signing out' : 'Sign out'}
    </Button>
  );
}

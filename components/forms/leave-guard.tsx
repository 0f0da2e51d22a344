'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useState } from 'react';
import { Button } from '@/components/ui/button';
import { Dialog } from '@/components/ui/dialog';

/** Asks before typed values are left behind: by the browser when the page closes, by us when a link is followed. */
export function LeaveGuard({ active }: { active: boolean }) {
  const router = useRouter();
  const [target, setTarget] = useState<string>();
  useEffect(() => {
    if (!active) return;
    const onUnload = (event: BeforeUnloadEvent) => event.preventDefault();
    const onClick = (event: MouseEvent) => {
      const link = event.target instanceof Element ? event.target.closest('a[href]') : null;
      const isPlainClick = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey;
      if (!(link instanceof HTMLAnchorElement) || !isPlainClick || link.target === '_blank' || link.download)
        return;
      const isSamePage = link.pathname === location.pathname && link.search === location.search;
      if (isSamePage || link.origin !== location.origin) return;
      event.preventDefault();
      event.stopPropagation();
      setTarget(`${link.pathname}${link.search}${link.hash}`);
    };
    window.addEventListener('beforeunload', onUnload);
    document.addEventListener('click', onClick, true);
    return () => {
      window.removeEventListener('beforeunload', onUnload);
      document.removeEventListener('click', onClick, true);
    };
  }, [active]);
  return (
    <Dialog
      open={target !== undefined}
      onClose={() => setTarget(undefined)}
      title="Leave without saving?"
      closeLabel="Stay and go on typing"
      actions={
        <Button weight="harm" onClick={() => target && router.push(target)}>
          Leave, and lose what was typed
        </Button>
      }
    >
      <p>What you typed on this page has not been saved.</p>
    </Dialog>
  );
}

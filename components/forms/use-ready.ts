'use client';

import { useSyncExternalStore } from 'react';

const never = () => () => undefined;

/**
 * False until the page's scripts have taken over. A form that would be sent by the browser itself before that (and lose
 * what was typed, or put it into an address) keeps its button shut for this moment.
 */
export function useReady(): boolean {
  return useSyncExternalStore(
    never,
    () => true,
    () => false,
  );
}

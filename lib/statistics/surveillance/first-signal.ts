import type { Column } from '../check-input';

/** Where a chart first signalled: the number of the case, counted from 1; or that it never did. */
export type FirstSignal = { readonly kind: 'signal'; readonly atCase: number } | { readonly kind: 'quiet' };

/** The first row of a path at which a condition holds. */
export function firstSignal(path: Column, signals: (value: number, i: number) => boolean): FirstSignal {
  for (let i = 0; i < path.length; i += 1) if (signals(path[i], i)) return { kind: 'signal', atCase: i + 1 };
  return { kind: 'quiet' };
}

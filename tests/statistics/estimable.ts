import type { NotEstimable } from '@/lib/statistics';

type Result = { readonly kind: string };

function isEstimable<T extends Result>(found: T): found is Exclude<T, NotEstimable> {
  return found.kind !== 'notEstimable';
}

/** The result of something that must be estimable; fails with its reason when it is not. */
export function estimable<T extends Result>(found: T): Exclude<T, NotEstimable> {
  if (isEstimable(found)) return found;
  throw new Error(`not estimable: ${JSON.stringify(found)}`);
}

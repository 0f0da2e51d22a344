import type { NotEstimable } from '@/lib/statistics';

/** The value itself; throws the reason when there is none. */
export function estimated<T extends { readonly kind: string } | number>(value: T | NotEstimable): T {
  if (isAbsent(value)) throw new Error(value.reason);
  return value;
}

function isAbsent(value: unknown): value is NotEstimable {
  return typeof value === 'object' && value !== null && 'kind' in value && value.kind === 'notEstimable';
}

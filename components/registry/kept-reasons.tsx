import { KEEP_REASONS } from '@/lib/registry/procedure-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';

interface KeptReasonsProps {
  readonly kept: readonly { readonly field: string; readonly reason: string }[];
  readonly labels: Readonly<Record<string, string>>;
}

/** What was unusual about an entry and was kept all the same, with the reason; nothing when all was usual. */
export function KeptReasons({ kept, labels }: KeptReasonsProps) {
  if (kept.length === 0) return null;
  return (
    <p>
      Unusual, kept:{' '}
      {kept
        .map(({ field, reason }) => {
          const [own = field] = field.split('.');
          return `${(labels[field] ?? labels[own] ?? own).toLowerCase()} (${labelOf(KEEP_REASONS, reason).toLowerCase()})`;
        })
        .join(', ')}
      .
    </p>
  );
}

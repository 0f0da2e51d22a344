import { StateMark, type StateMarkKind } from '@/components/ui/state-mark';
import type { ShownStructure } from '@/lib/registry/lesion-set';
import styles from './schematic.module.css';

const ALWAYS: readonly (readonly [StateMarkKind, string])[] = [
  ['abated', 'abated, or blocked both ways'],
  ['open', 'still open'],
  ['not-recorded', 'not recorded'],
  ['not-done', 'not done'],
  ['not-applicable', 'not applicable'],
];

/** What the patterns mean; those that few cases need stand there only where they are drawn. */
export function SchematicLegend({ shown }: { shown: readonly ShownStructure[] }) {
  const segments = shown.flatMap((structure) => structure.segments);
  const marks: readonly (readonly [StateMarkKind, string])[] = [
    ...ALWAYS,
    ...(segments.some(({ doneUnjudged }) => doneUnjudged)
      ? [['unjudged', 'done, not to be judged'] as const]
      : []),
    ...(segments.some(({ isHeld }) => isHeld) ? [['held', 'not done, found still isolated'] as const] : []),
    ...(segments.some(({ element }) => element.reconnected === true)
      ? [['reconnected', 'found reconnected'] as const]
      : []),
  ];
  return (
    <ul className={styles.legend} aria-label="What the patterns mean">
      {marks.map(([kind, words]) => (
        <li key={kind}>
          <StateMark kind={kind}>{words}</StateMark>
        </li>
      ))}
    </ul>
  );
}

import type { ReactNode } from 'react';
import styles from './state-mark.module.css';

/**
 * Each state has a drawing of its own, told apart without colour:
 * overdue = thick frame, cross-hatched; due = lower half hatched; upcoming = dashed frame, empty; done = filled frame;
 * missed = frame with one bar through it; unfinished = frame with a missing corner side; abated = hatched;
 * open = dashed thick frame; not-recorded = flat; not-done = crossed out; not-applicable = dotted frame; unjudged = the same
 * with a plus; held = frame with an equals sign; reconnected = diamond.
 */
export type StateMarkKind =
  | 'overdue'
  | 'due'
  | 'upcoming'
  | 'done'
  | 'missed'
  | 'unfinished'
  | 'abated'
  | 'open'
  | 'not-recorded'
  | 'not-done'
  | 'not-applicable'
  | 'unjudged'
  | 'held'
  | 'reconnected';

const HATCH = 'M2 8 8 2M2 13 13 2M7 13 13 7';
const FRAME = 'M1.5 1.5H13.5V13.5H1.5Z';

interface Drawing {
  readonly frame: string;
  readonly strokes?: string;
  readonly frameWidth?: number;
  readonly dash?: string;
  readonly fill?: 'sunk' | 'tone';
  readonly tone: 'ink' | 'accent' | 'caution' | 'harm' | 'quiet';
}

const DRAWINGS: Record<StateMarkKind, Drawing> = {
  overdue: { frame: FRAME, strokes: `${HATCH}M2 7 8 13M2 2 13 13M7 2 13 8`, frameWidth: 2.4, tone: 'harm' },
  due: {
    frame: FRAME,
    strokes: 'M2 12 6 8M4 14 10 8M8 14 13 9M1.5 7.5H13.5',
    frameWidth: 1.6,
    tone: 'caution',
  },
  upcoming: { frame: FRAME, dash: '3 2', frameWidth: 1.4, tone: 'quiet' },
  done: { frame: FRAME, fill: 'tone', frameWidth: 1.4, tone: 'ink' },
  missed: { frame: FRAME, strokes: 'M1.5 7.5H13.5', frameWidth: 1.6, tone: 'quiet' },
  unfinished: { frame: 'M13.5 8V13.5H1.5V1.5H8', frameWidth: 1.8, tone: 'caution' },
  abated: { frame: FRAME, strokes: HATCH, frameWidth: 1.4, tone: 'accent' },
  open: { frame: FRAME, dash: '4 3', frameWidth: 2.4, tone: 'harm' },
  'not-recorded': { frame: FRAME, fill: 'sunk', frameWidth: 1.2, tone: 'quiet' },
  'not-done': { frame: FRAME, strokes: 'M2 2 13 13M13 2 2 13', frameWidth: 1.2, tone: 'quiet' },
  'not-applicable': { frame: FRAME, dash: '0.5 2.6', frameWidth: 1.6, tone: 'quiet' },
  unjudged: {
    frame: FRAME,
    dash: '0.5 2.6',
    strokes: 'M4.5 7.5H10.5M7.5 4.5V10.5',
    frameWidth: 1.6,
    tone: 'quiet',
  },
  held: { frame: FRAME, strokes: 'M4 6H11M4 9H11', frameWidth: 1.2, tone: 'quiet' },
  reconnected: { frame: 'M7.5 1.5 13.5 7.5 7.5 13.5 1.5 7.5Z', frameWidth: 1.8, tone: 'ink' },
};

/** A state: a small drawing (outline and pattern) and always its words. Colour only supports it. */
export function StateMark({ kind, children }: { kind: StateMarkKind; children: ReactNode }) {
  const drawing = DRAWINGS[kind];
  return (
    <span className={`${styles.mark} ${styles[drawing.tone]}`} data-state={kind}>
      <svg viewBox="0 0 15 15" className={styles.drawing} aria-hidden="true" focusable="false">
        <path
          d={drawing.frame}
          strokeWidth={drawing.frameWidth ?? 1.4}
          strokeDasharray={drawing.dash}
          strokeLinecap={drawing.dash?.startsWith('0.5') ? 'round' : 'butt'}
          className={drawing.fill ? styles[`fill-${drawing.fill}`] : undefined}
        />
        {drawing.strokes ? <path d={drawing.strokes} strokeWidth={1.2} /> : null}
      </svg>
      <span className={styles.words}>{children}</span>
    </span>
  );
}

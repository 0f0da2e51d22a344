import { type ShownSegment, stateWords } from '@/lib/registry/lesion-set';
import { kindOfStructure } from '@/lib/registry/lesion-vocabulary';

/** Lines of text; `y` is the baseline of the first one. */
export interface Label {
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly lines: readonly string[];
}

export const LINE_HEIGHT = 16.5;
const GAP = 10;

/** The state in a few words, and what had reconnected. */
export function shortWords(segment: ShownSegment): string[] {
  const state = segment.isHeld
    ? 'still isolated'
    : kindOfStructure(segment.structure) === 'line' && segment.state === 'abated'
      ? 'block both ways'
      : stateWords(segment);
  return [state, ...(segment.element.reconnected === true ? ['reconnected'] : [])];
}

interface Circle {
  readonly centre: { readonly x: number; readonly y: number };
  readonly outer: number;
}

/** A label outside a ring: above its top, below its bottom, else beside it, clear of the arc at each of its lines. */
export function labelBeside({ centre, outer }: Circle, degrees: number, lines: readonly string[]): Label {
  const height = (lines.length - 1) * LINE_HEIGHT;
  if (degrees === 0) return { x: centre.x, y: centre.y - outer - GAP - height, anchor: 'middle', lines };
  if (degrees === 180) return { x: centre.x, y: centre.y + outer + GAP + 10, anchor: 'middle', lines };
  const up = Math.cos((degrees * Math.PI) / 180);
  // Away from the bars that touch the top and the bottom of a ring.
  const first = -outer * up - height / 2 + 5 + 12 * Math.sign(Math.round(10 * up));
  const nearest = first - 11 > 0 ? first - 11 : first + height < 0 ? first + height + 3 : 0;
  const clear = Math.sqrt(Math.max(0, outer ** 2 - nearest ** 2)) + GAP;
  const isRight = degrees < 180;
  return {
    x: centre.x + (isRight ? clear : -clear),
    y: centre.y + first,
    anchor: isRight ? 'start' : 'end',
    lines,
  };
}

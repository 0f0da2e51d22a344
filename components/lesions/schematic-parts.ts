import type { ShownSegment, ShownStructure } from '@/lib/registry/lesion-set';
import type { Point } from './schematic-geometry';
import type { Label } from './schematic-labels';

/** One segment or line, ready to draw. */
export interface DrawnPart {
  readonly segment: ShownSegment;
  readonly path: string;
  /** Two strokes from corner to corner: crossed out. */
  readonly cross: string;
  /** Where a mark stands that fills no area. */
  readonly middle: Point;
  /** How wide and high it is about its middle, for a finger. */
  readonly size: Point;
  /** Where the mark of a reconnection stands. */
  readonly edge: Point;
  readonly label: Label;
}

/** A ring with where it stands; lines are laid between rings. */
export interface PlacedRing {
  readonly structure: ShownStructure;
  readonly side: 'left' | 'right';
  readonly centre: Point;
  readonly outer: number;
  readonly inner: number;
}

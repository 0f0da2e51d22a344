import { type ReactNode, useId } from 'react';
import type { ShownSegment } from '@/lib/registry/lesion-set';
import styles from './schematic.module.css';
import { type Label, LINE_HEIGHT } from './schematic-labels';
import type { SchematicLayout } from './schematic-layout';
import type { DrawnPart } from './schematic-parts';

/** A place of the set, by its codes. */
export interface Place {
  readonly structure: string;
  readonly segment: string;
}

interface SchematicProps {
  readonly layout: SchematicLayout;
  /** One sentence that says what the drawing shows. */
  readonly description: string;
  readonly selected?: Place | undefined;
  /** What lies over the drawing, in the same measures: the buttons of the editor. */
  readonly children?: ReactNode;
}

/** How a segment looks; each look has a pattern or frame of its own, told apart without colour (as in ui/state-mark). */
function lookOf({ state, doneUnjudged, isHeld }: ShownSegment): string {
  if (doneUnjudged) return 'unjudged';
  return isHeld ? 'held' : state;
}

export const isPlace = (place: Place | undefined, { segment }: DrawnPart): boolean =>
  place !== undefined && segment.structure === place.structure && segment.segment === place.segment;

/** The lesion set as our own schematic: states by pattern, frame and words. */
export function Schematic({ layout, description, selected, children }: SchematicProps) {
  const hatch = useId();
  const { width, height, parts, titles } = layout;
  return (
    <div className={styles.box}>
      <svg
        viewBox={`0 0 ${width} ${Math.ceil(height)}`}
        className={styles.drawing}
        role="img"
        aria-label={description}
      >
        <defs>
          <pattern
            id={hatch}
            width="7"
            height="7"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <rect width="7" height="7" className={styles.wash} />
            <line x1="0" y1="0" x2="0" y2="7" className={styles.hatch} />
          </pattern>
        </defs>
        {titles.map((title) => (
          <Words key={`${title.x} ${title.y}`} label={title} className={styles.title} />
        ))}
        {parts.map((part) => (
          <Part
            key={`${part.segment.structure} ${part.segment.segment}`}
            part={part}
            hatch={hatch}
            isSelected={isPlace(selected, part)}
          />
        ))}
      </svg>
      {children}
    </div>
  );
}

function Part({ part, hatch, isSelected }: { part: DrawnPart; hatch: string; isSelected: boolean }) {
  const { segment, path, cross, middle, edge, label } = part;
  const look = lookOf(segment);
  const { x, y } = middle;
  return (
    <g data-look={look} data-place={`${segment.structure} ${segment.segment}`}>
      {isSelected ? <path d={path} className={styles.selected} /> : null}
      <path d={path} className={styles[look]} fill={look === 'abated' ? `url(#${hatch})` : undefined} />
      {look === 'not-done' ? <path d={cross} className={styles.strokes} /> : null}
      {look === 'unjudged' ? (
        <path d={`M${x - 5} ${y}h10M${x} ${y - 5}v10`} className={styles.strokes} />
      ) : null}
      {look === 'held' ? (
        <path d={`M${x - 7} ${y - 3}h14M${x - 7} ${y + 3}h14`} className={styles.strokes} />
      ) : null}
      {segment.element.reconnected === true ? (
        <path d={`M${edge.x} ${edge.y - 8}l8 8l-8 8l-8 -8Z`} className={styles.reconnected} />
      ) : null}
      <Words label={label} className={isSelected ? styles.chosen : styles.label} />
    </g>
  );
}

function Words({ label, className }: { label: Label; className: string | undefined }) {
  return (
    <text textAnchor={label.anchor} className={className}>
      {label.lines.map((line, index) => (
        <tspan
          key={line}
          x={label.x}
          y={label.y + index * LINE_HEIGHT}
          className={index > 0 && className !== styles.title ? styles.state : undefined}
        >
          {line}
        </tspan>
      ))}
    </text>
  );
}

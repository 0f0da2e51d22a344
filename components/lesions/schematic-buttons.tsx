'use client';

import { type KeyboardEvent, useRef } from 'react';
import { type ShownSegment, stateWords } from '@/lib/registry/lesion-set';
import { isPlace, type Place } from './schematic';
import styles from './schematic.module.css';
import type { SchematicLayout } from './schematic-layout';

interface SchematicButtonsProps {
  readonly layout: SchematicLayout;
  readonly selected: Place | undefined;
  readonly onSelect: (segment: ShownSegment) => void;
}

const STEPS: Readonly<Record<string, 1 | -1>> = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

/**
 * A button over each segment and line, never smaller than a finger however small the drawing. One stop of the Tab key for the
 * whole drawing; the arrow keys go on from there.
 */
export function SchematicButtons({ layout, selected, onSelect }: SchematicButtonsProps) {
  const box = useRef<HTMLFieldSetElement>(null);
  const { width, height, parts } = layout;
  const stop = Math.max(
    0,
    parts.findIndex((part) => isPlace(selected, part)),
  );
  const onKeyDown = (event: KeyboardEvent, index: number) => {
    const step = STEPS[event.key];
    if (step === undefined) return;
    event.preventDefault();
    const buttons = box.current?.querySelectorAll('button');
    buttons?.item((index + step + parts.length) % parts.length)?.focus();
  };
  return (
    <fieldset ref={box} className={styles.buttons}>
      <legend className="visually-hidden">Segments and lines: arrow keys move, Enter chooses</legend>
      {parts.map((part, index) => (
        <button
          key={`${part.segment.structure} ${part.segment.segment}`}
          type="button"
          className={styles.button}
          style={{
            left: `${(100 * part.middle.x) / width}%`,
            top: `${(100 * part.middle.y) / height}%`,
            width: `${(100 * part.size.x) / width}%`,
            height: `${(100 * part.size.y) / height}%`,
          }}
          tabIndex={index === stop ? 0 : -1}
          aria-pressed={isPlace(selected, part)}
          onClick={() => onSelect(part.segment)}
          onKeyDown={(event) => onKeyDown(event, index)}
        >
          <span className="visually-hidden">
            {part.segment.label}: {stateWords(part.segment)}
          </span>
        </button>
      ))}
    </fieldset>
  );
}

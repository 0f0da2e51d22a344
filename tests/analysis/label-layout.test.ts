import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeLabels } from '@/lib/analysis/outcomes/label-layout';
import { textWidth, wrapText } from '@/lib/analysis/outcomes/text-width';

const wishes = fc.array(
  fc.record({ y: fc.double({ min: 0, max: 300, noNaN: true }), height: fc.integer({ min: 10, max: 40 }) }),
  { maxLength: 6 },
);
const GAP = 4;

describe('labels in a column', () => {
  it('never touch, keep their order and stay inside, wherever the curves end', () => {
    fc.assert(
      fc.property(wishes, (labels) => {
        const centres = placeLabels(labels, 0, 300, GAP);
        const placed = labels.map((label, i) => ({ ...label, centre: centres[i], i }));
        placed.sort((a, b) => a.centre - b.centre);
        for (const [i, below] of placed.entries()) {
          expect(below.centre - below.height / 2).toBeGreaterThanOrEqual(-1e-9);
          expect(below.centre + below.height / 2).toBeLessThanOrEqual(300 + 1e-9);
          const above = placed[i - 1];
          if (!above) continue;
          expect(below.centre - below.height / 2).toBeGreaterThanOrEqual(
            above.centre + above.height / 2 + GAP - 1e-9,
          );
          expect(above.y).toBeLessThanOrEqual(below.y);
        }
      }),
    );
  });

  it('stay where they wish when there is room', () => {
    expect(
      placeLabels(
        [
          { y: 200, height: 20 },
          { y: 100, height: 20 },
        ],
        0,
        300,
        GAP,
      ),
    ).toEqual([200, 100]);
  });

  it('that wish the same place part evenly around it', () => {
    expect(
      placeLabels(
        [
          { y: 100, height: 20 },
          { y: 100, height: 20 },
        ],
        0,
        300,
        GAP,
      ),
    ).toEqual([88, 112]);
  });

  it('move as little as possible: no small shift of one label that keeps the gaps lessens the squared moves', () => {
    fc.assert(
      fc.property(wishes, fc.nat(), fc.constantFrom(-0.5, 0.5), (labels, pick, shift) => {
        fc.pre(labels.length > 0);
        const centres = placeLabels(labels, -1e4, 1e4, GAP);
        const moved = centres.map((centre, i) => (i === pick % labels.length ? centre + shift : centre));
        const order = labels.map((_, i) => i).sort((a, b) => moved[a] - moved[b]);
        const allowed = order.every((i, rank) => {
          const above = order[rank - 1];
          return (
            above === undefined ||
            moved[i] - moved[above] >= (labels[i].height + labels[above].height) / 2 + GAP
          );
        });
        fc.pre(allowed);
        const cost = (places: readonly number[]) =>
          places.reduce((sum, y, i) => sum + (y - labels[i].y) ** 2, 0);
        expect(cost(moved)).toBeGreaterThanOrEqual(cost(centres) - 1e-6);
      }),
    );
  });
});

describe('a long name', () => {
  it('breaks between words and is not cut when it fits in two lines', () => {
    expect(wrapText('Long-standing persistent', 120, 12.5, 2)).toEqual(['Long-standing', 'persistent']);
    expect(wrapText('Ostial', 120, 12.5, 2)).toEqual(['Ostial']);
  });

  it('keeps to its lines and width whatever it is made of', () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 120, unit: 'grapheme' }),
        fc.integer({ min: 60, max: 200 }),
        (text, width) => {
          const lines = wrapText(text, width, 12.5, 2);
          expect(lines.length).toBeLessThanOrEqual(2);
          for (const line of lines) expect(textWidth(line, 12.5, true)).toBeLessThanOrEqual(width);
        },
      ),
    );
  });
});

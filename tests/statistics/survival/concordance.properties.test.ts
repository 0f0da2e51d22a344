import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type ConcordanceData, estimateConcordance } from '@/lib/statistics';
import { followUp } from './follow-up';

type Rows = { timeDays: number[]; event: number[]; marker: number[]; weights: number[] };

/** Follow-up with a marker of few values and weights in quarters. */
const rows: fc.Arbitrary<Rows> = followUp(2).chain(({ timeDays, event }) =>
  fc.record({
    timeDays: fc.constant(timeDays),
    event: fc.constant(event),
    marker: column(timeDays.length, fc.integer({ min: -3, max: 6 })),
    weights: column(
      timeDays.length,
      fc.integer({ min: 0, max: 9 }).map((quarters) => quarters / 4),
    ),
  }),
);

function column(length: number, value: fc.Arbitrary<number>): fc.Arbitrary<number[]> {
  return fc.array(value, { minLength: length, maxLength: length });
}

/** Every pair looked at by itself. */
function countedPairByPair({ timeDays, event, marker, weights }: Rows) {
  const counts = { concordant: 0, discordant: 0, tiedMarker: 0, tiedTime: 0, tiedBoth: 0 };
  for (const i of timeDays.keys()) {
    for (const j of timeDays.keys()) {
      const weight = weights[i] * weights[j];
      if (event[i] === 1 && (timeDays[i] < timeDays[j] || (timeDays[i] === timeDays[j] && event[j] === 0))) {
        if (marker[i] > marker[j]) counts.concordant += weight;
        else if (marker[i] < marker[j]) counts.discordant += weight;
        else counts.tiedMarker += weight;
      }
      if (i < j && event[i] === 1 && event[j] === 1 && timeDays[i] === timeDays[j])
        counts[marker[i] === marker[j] ? 'tiedBoth' : 'tiedTime'] += weight;
    }
  }
  return counts;
}

it('counts as if every pair were looked at', () => {
  fc.assert(
    fc.property(rows, (data) => {
      const found = estimateConcordance(data);
      const counts = countedPairByPair(data);
      const comparable = counts.concordant + counts.discordant + counts.tiedMarker;
      if (found.kind === 'notEstimable') expect(comparable).toBe(0);
      else {
        expect(found).toMatchObject(counts);
        expect(found.concordance).toBeCloseTo((counts.concordant + counts.tiedMarker / 2) / comparable, 12);
      }
    }),
  );
});

it('has the standard error of small changes of the weights', () => {
  fc.assert(
    fc.property(rows, (data) => {
      const found = estimateConcordance(data);
      if (found.kind !== 'estimated' || found.interval.kind !== 'estimated') return;
      const step = 1e-4;
      const shifted = (i: number, by: number): number => {
        const weights = data.weights.map((w, k) => (k === i ? w * (1 + by) : w));
        const other = estimateConcordance({ ...data, weights });
        return other.kind === 'estimated' ? other.concordance : Number.NaN;
      };
      const slopes = data.weights.map((_, i) => (shifted(i, step) - shifted(i, -step)) / (2 * step));
      const error = Math.sqrt(slopes.reduce((sum, slope) => sum + slope * slope, 0));
      expect(found.interval.standardError).toBeCloseTo(error, 6);
    }),
    { numRuns: 40 },
  );
});

it('turns over with the marker and follows only its order', () => {
  fc.assert(
    fc.property(rows, (data) => {
      const found = estimateConcordance(data);
      const turned = estimateConcordance({ ...data, marker: data.marker.map((m) => -m) });
      const bent = estimateConcordance({ ...data, marker: data.marker.map((m) => Math.exp(m)) });
      expect(bent).toEqual(found);
      if (found.kind !== 'estimated' || turned.kind !== 'estimated') return;
      expect(turned.concordance).toBeCloseTo(1 - found.concordance, 12);
      expect(turned.discordant).toBe(found.concordant);
    }),
  );
});

it('weights of 1 change nothing; whole weights give the index of copied rows, not its standard error', () => {
  fc.assert(
    fc.property(rows, (data) => {
      const plain: ConcordanceData = { timeDays: data.timeDays, event: data.event, marker: data.marker };
      const ones = data.weights.map(() => 1);
      expect(estimateConcordance({ ...plain, weights: ones })).toEqual(estimateConcordance(plain));
      const twice = estimateConcordance({ ...plain, weights: ones.map(() => 2) });
      const copied = estimateConcordance({
        timeDays: [...data.timeDays, ...data.timeDays],
        event: [...data.event, ...data.event],
        marker: [...data.marker, ...data.marker],
      });
      if (twice.kind !== 'estimated' || copied.kind !== 'estimated') return;
      // A censored row never meets its own copy; an event meets it on the same day, which is no comparison.
      expect(copied.concordance).toBeCloseTo(twice.concordance, 12);
      expect(copied.concordant).toBe(twice.concordant);
      if (twice.interval.kind !== 'estimated' || copied.interval.kind !== 'estimated') return;
      expect(twice.interval.standardError).toBeCloseTo(Math.SQRT2 * copied.interval.standardError, 10);
    }),
  );
});

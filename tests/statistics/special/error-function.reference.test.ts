import { expect, it } from 'vitest';
import { z } from 'zod';
import {
  complementaryErrorFunction,
  errorFunction,
  normalLogLowerTail,
  normalLogUpperTail,
} from '@/lib/statistics';
import { loadReference } from '../reference-cases';

const { errorFunction: errors, logLowerTail } = loadReference(
  'special-error-function',
  z.object({
    errorFunction: z.array(z.tuple([z.number(), z.number(), z.number()])),
    logLowerTail: z.array(z.tuple([z.number(), z.number()])),
  }),
);

/** R has neither erf nor erfc, and 2 pnorm(-x sqrt(2)) loses digits to the rounding of its argument. */
it('agrees with mpmath to 1e-12 on erf and erfc, from 1e-300 to the end of the doubles', () => {
  expect(errors.length).toBeGreaterThan(20);
  const wrong = errors.flatMap(([x, erf, erfc]) => [
    ...differing(`erf ${x}`, errorFunction(x), erf),
    ...differing(`erfc ${x}`, complementaryErrorFunction(x), erfc),
  ]);
  expect(wrong).toEqual([]);
});

it('agrees with mpmath to 1e-12 on the logarithm of both normal tails, out to 1e150', () => {
  expect(logLowerTail.length).toBeGreaterThan(10);
  const wrong = logLowerTail.flatMap(([at, want]) => [
    ...differing(`lower ${at}`, normalLogLowerTail(at), want),
    ...differing(`upper ${-at}`, normalLogUpperTail(-at), want),
  ]);
  expect(wrong).toEqual([]);
});

function differing(what: string, got: number, want: number): { what: string; got: number; want: number }[] {
  return Math.abs(got - want) <= 1e-12 * Math.abs(want) ? [] : [{ what, got, want }];
}

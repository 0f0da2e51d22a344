import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { type Concordance, estimateConcordance } from '@/lib/statistics';
import { differences, loadCases, loadReference } from '../reference-cases';
import { estimated } from './estimated';

const numbers = z.array(z.number());
const shape = z.object({
  data: z.object({ time: numbers, status: numbers, x: numbers, weights: numbers.optional() }),
  expected: z.object({
    C: z.number(),
    se: z.number(),
    concordant: z.number(),
    discordant: z.number(),
    tiedX: z.number(),
    tiedY: z.number(),
    tiedXY: z.number(),
  }),
});
const cases = loadCases('concordance', z.looseObject({})).filter(({ id }) => !id.startsWith('pub-'));

describe.each(cases)('$id ($rCall)', (reference) => {
  it('agrees on the index, its standard error and the pairs', () => {
    const { data, expected } = shape.parse(reference);
    const { time, status, x, weights } = data;
    const columns = { timeDays: time, event: status, marker: x };
    const found = estimated(estimateConcordance(weights ? { ...columns, weights } : columns));
    const { concordance, concordant, discordant, tiedMarker, tiedTime, tiedBoth } = found;
    const { C, se, concordant: c, discordant: d, tiedX, tiedY, tiedXY } = expected;
    const got = [
      concordance,
      estimated(found.interval).standardError,
      concordant,
      discordant,
      tiedMarker,
      tiedTime,
      tiedBoth,
    ];
    expect(differences('C and pairs', got, [C, se, c, d, tiedX, tiedY, tiedXY], reference.tolerance)).toEqual(
      [],
    );
  });
});

describe('the three models of the concordance vignette of the survival package, section 1.2', () => {
  const published = loadReference(
    'pub-concordance-veteran',
    z.object({
      data: z.object({
        time: numbers,
        status: numbers,
        karno: numbers,
        age: numbers,
        trt: numbers,
        prior: numbers,
        celltype: z.array(z.string()),
      }),
      printed: z.object({ values: z.record(z.string(), z.number()) }),
    }),
  );
  const { models } = loadReference(
    'concordance-veteran-models',
    z.object({ models: z.record(z.string(), z.record(z.string(), z.number())) }),
  );
  const { time, status, karno, age, trt, prior, celltype } = published.data;
  const concordanceOf = (name: string): Concordance => {
    const b = models[name];
    const marker = time.map(
      (_, i) =>
        b.karno * karno[i] +
        b.age * age[i] +
        b.trt * trt[i] +
        (b.prior ?? 0) * prior[i] +
        (b[celltype[i]] ?? 0),
    );
    return estimated(estimateConcordance({ timeDays: time, event: status, marker }));
  };

  it.each(['4', '5', '6'])('prints model %s', (name) => {
    const { values } = published.printed;
    const found = concordanceOf(name);
    expect({
      C: Number(found.concordance.toFixed(4)),
      se: Number(estimated(found.interval).standardError.toFixed(4)),
      concordant: found.concordant,
      discordant: found.discordant,
    }).toEqual({
      C: values[`C${name}`],
      se: values[`se${name}`],
      concordant: values[`conc${name}`],
      discordant: values[`disc${name}`],
    });
    if (name === '4') expect([found.tiedMarker, found.tiedTime]).toEqual([values.tiedx4, values.tiedy4]);
  });
});

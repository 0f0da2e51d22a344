import { describe, expect, it } from 'vitest';
import {
  estimateCumulativeIncidence,
  estimateCumulativeIncidenceByGroup,
  incidenceAt,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

describe('by hand', () => {
  // Ten cases: day 1 one of each cause and one censored; day 2 two of cause 1; day 3 ...
  const data = { timeDays: [1, 1, 1, 2, 2, 3, 3, 3, 4, 5], status: [1, 2, 0, 1, 1, 2, 0, 1, 2, 0] };
  const compute = () => {
    const estimate = estimateCumulativeIncidence(data);
    const [first, second] = estimate.causes;
    return { estimate, first, second };
  };

  it('adds S(t-) d/n: 1/10, then 8/10 x 2/7, then 4/7 x 1/5', () => {
    const { estimate, first, second } = compute();
    expect(Array.from(estimate.timeDays)).toEqual([1, 2, 3, 4, 5]);
    expect(Array.from(estimate.atRisk)).toEqual([10, 7, 5, 2, 1]);
    expect(Array.from(estimate.censored)).toEqual([1, 0, 1, 0, 1]);
    expect(first.incidence[0]).toBeCloseTo(1 / 10, 15);
    expect(first.incidence[1]).toBeCloseTo(1 / 10 + 8 / 35, 15);
    expect(first.incidence[2]).toBeCloseTo(1 / 10 + 8 / 35 + 4 / 35, 15);
    expect(second.incidence[4]).toBeCloseTo(1 / 10 + 4 / 35 + 6 / 35, 15);
    expect([first.eventTotal, second.eventTotal]).toEqual([4, 3]);
  });

  it('has the binomial variance at the first time: 0.1 x 0.9 / 10', () => {
    const { first } = compute();
    expect(first.standardError[0]).toBeCloseTo(Math.sqrt(0.009), 15);
  });

  it('splits one minus the event-free curve among the causes', () => {
    const { estimate, first, second } = compute();
    for (const i of estimate.timeDays.keys()) {
      expect(first.incidence[i] + second.incidence[i] + estimate.eventFree[i]).toBeCloseTo(1, 15);
    }
  });

  it('reads values at times, with intervals where there are any', () => {
    const { estimate, second } = compute();
    const points = incidenceAt(estimate, 2, [0.5, 1, 3.5, 9]);
    expect(points).toMatchObject([
      { incidence: 0, beyondFollowUp: false, interval: { kind: 'notEstimable', code: 'noEventYet' } },
      { incidence: second.incidence[0], interval: { kind: 'estimated', lower: second.lower[0] } },
      { incidence: second.incidence[2], beyondFollowUp: false },
      { incidence: second.incidence[4], beyondFollowUp: true, interval: { upper: second.upper[4] } },
    ]);
  });
});

describe('edges', () => {
  it('a curve that reaches one has no interval there', () => {
    const estimate = estimateCumulativeIncidence(
      { timeDays: [1, 2, 3], status: [1, 1, 1] },
      { causeCount: 2 },
    );
    expect(estimate.causes[0]).toMatchObject({ intervalFrom: 0, intervalTo: 2 });
    expect(estimate.causes[0].incidence[2]).toBe(1);
    expect(incidenceAt(estimate, 1, [3])).toMatchObject([{ interval: { code: 'incidenceAtOne' } }]);
    expect(estimate.causes[1]).toMatchObject({ eventTotal: 0, intervalFrom: 3 });
  });

  it('counts delayed entry as Kaplan-Meier does', () => {
    const estimate = estimateCumulativeIncidence({
      timeDays: [5, 7, 8, 9],
      status: [1, 2, 0, 1],
      entryDays: [0, 5, 2, 6],
    });
    expect(Array.from(estimate.atRisk)).toEqual([2, 3, 2, 1]);
    expect(estimate.causes[1].incidence[1]).toBeCloseTo((1 / 2) * (1 / 3), 15);
  });

  it('stops adding once everybody at risk has had an event', () => {
    const estimate = estimateCumulativeIncidence({
      timeDays: [1, 5, 6],
      status: [2, 1, 1],
      entryDays: [0, 2, 2],
    });
    expect(Array.from(estimate.causes[1].incidence)).toEqual([1, 1, 1]);
    expect(Array.from(estimate.causes[0].incidence)).toEqual([0, 0, 0]);
  });

  it('has nothing to read without cases', () => {
    const empty = estimateCumulativeIncidence({ timeDays: [], status: [] }, { causeCount: 2 });
    expect(empty).toMatchObject({ n: 0 });
    expect(incidenceAt(empty, 1, [3])).toMatchObject([{ kind: 'notEstimable', code: 'noRows' }]);
  });

  it('gives each group its own estimate, causes shared', () => {
    const data = { timeDays: [1, 2, 3, 4], status: [1, 0, 0, 2], group: [0, 0, 1, 1] };
    const [first, second, third] = estimateCumulativeIncidenceByGroup(data, { groupCount: 3 });
    expect(first).toEqual(
      estimateCumulativeIncidence({ timeDays: [1, 2], status: [1, 0] }, { causeCount: 2 }),
    );
    expect([second.n, second.causes.length, third.n]).toEqual([2, 2, 0]);
    expect(estimateCumulativeIncidenceByGroup(data)).toHaveLength(2);
  });

  it('counts who enters late in the group that is entered', () => {
    const data = {
      timeDays: [5, 7, 8, 9, 3, 6],
      status: [1, 2, 0, 1, 2, 1],
      entryDays: [0, 5, 2, 6, 0, 1],
      group: [0, 0, 0, 0, 1, 1],
    };
    const [first, second] = estimateCumulativeIncidenceByGroup(data);
    const part = (from: number, to: number) =>
      estimateCumulativeIncidence({
        timeDays: data.timeDays.slice(from, to),
        status: data.status.slice(from, to),
        entryDays: data.entryDays.slice(from, to),
      });
    expect(Array.from(first.atRisk)).toEqual([2, 3, 2, 1]);
    expect(Array.from(second.atRisk)).toEqual([2, 1]);
    expect([first, second]).toEqual([part(0, 4), part(4, 6)]);
  });

  it('reports on one cause when told that there is one', () => {
    const estimate = estimateCumulativeIncidence({ timeDays: [1, 2], status: [1, 0] }, { causeCount: 1 });
    expect(estimate.causes.map(({ eventTotal }) => eventTotal)).toEqual([1]);
  });
});

it('refuses unknown causes, bad rows and bad levels', () => {
  const data = { timeDays: [1, 2], status: [1, 3] };
  expectMistake(() => estimateCumulativeIncidence(data, { causeCount: 2 }), 'unknownCode', 'status', 1);
  expectMistake(() => estimateCumulativeIncidence({ ...data, status: [1] }), 'unequalLengths', 'status');
  expectMistake(
    () => estimateCumulativeIncidence({ ...data, status: [1, Number.NaN] }),
    'notFinite',
    'status',
    1,
  );
  expectMistake(() => estimateCumulativeIncidence({ ...data, timeDays: [-1, 2] }), 'negative', 'timeDays', 0);
  expectMistake(
    () => estimateCumulativeIncidence(data, { confidenceLevel: 0 }),
    'outOfRange',
    'confidenceLevel',
  );
  expectMistake(() => estimateCumulativeIncidence(data, { causeCount: 0 }), 'outOfRange', 'causeCount');
  const estimate = estimateCumulativeIncidence(data);
  expectMistake(() => incidenceAt(estimate, 4, [1]), 'unknownCode', 'cause');
  expectMistake(
    () => estimateCumulativeIncidenceByGroup({ ...data, group: [0, 5000] }),
    'outOfRange',
    'group',
  );
  expectMistake(() => estimateCumulativeIncidence({ ...data, status: [1, 5000] }), 'outOfRange', 'status');
  expectMistake(() => incidenceAt(estimate, 1, [-1]), 'negative', 'times', 0);
});

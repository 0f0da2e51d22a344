import { z } from 'zod';
import {
  estimateKaplanMeierByGroup,
  type SurvivalDifference,
  testSurvivalDifference,
} from '@/lib/statistics';
import { codesOf, label, times } from '../survival-columns';

const shape = z.object({ time: times, status: times, group: z.array(label) });
const params = z.object({ groups: z.array(label), times });

const KEYS = [
  'surv1',
  'surv2',
  'diff',
  'se',
  'lower',
  'upper',
  'z',
  'p',
  'zCloglog',
  'chisqCloglog',
  'pCloglog',
];

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { time, status, group } = shape.parse(one.data);
  const { groups, times: asked } = params.parse(one.params);
  const rows = [...group.keys()].filter((i) => groups.includes(group[i]));
  const pick = <T>(column: readonly T[]): T[] => rows.map((i) => column[i]);
  const [first, second] = estimateKaplanMeierByGroup(
    { timeDays: pick(time), event: pick(status), group: codesOf(pick(group), groups) },
    { groupCount: groups.length },
  );
  const points = testSurvivalDifference(first, second, asked).map((point) => {
    if (point.kind === 'notEstimable') return {};
    const { logLog } = point;
    const cloglog =
      logLog.kind === 'tested'
        ? { zCloglog: logLog.z, chisqCloglog: logLog.chiSquare, pCloglog: logLog.pValue }
        : {};
    return {
      ...{ surv1: point.first, surv2: point.second, diff: point.difference },
      ...plainOf(point),
      ...cloglog,
    };
  });
  return Object.fromEntries(
    KEYS.map((key) => [key, points.map((point) => new Map(Object.entries(point)).get(key) ?? null)]),
  );
}

function plainOf({ plain, difference }: SurvivalDifference): Record<string, number> {
  if (plain.kind === 'tested')
    return { se: plain.standardError, lower: plain.lower, upper: plain.upper, z: plain.z, p: plain.pValue };
  // Without an event the cases write an interval of no width, and no test.
  return plain.code === 'noEventYet' ? { se: 0, lower: difference, upper: difference } : {};
}

import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { estimateKaplanMeierByGroup, testSurvivalDifference } from '@/lib/statistics';
import { codesOf, differences, loadCases } from '../reference-cases';
import { estimated } from './estimated';

const numbers = z.array(z.number());
const label = z.union([z.string(), z.number()]);
const shape = z.object({
  params: z.object({ groups: z.array(label), times: numbers }),
  data: z.object({ time: numbers, status: numbers, group: z.array(label) }),
  expected: z.record(
    z.enum([
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
    ]),
    numbers,
  ),
});

describe.each(loadCases('km_difference_at_time', shape))(
  '$id ($rCall)',
  ({ params, data, expected, tolerance }) => {
    it('agrees on both tests at every time', () => {
      const group = codesOf(data.group, params.groups);
      const [first, second] = estimateKaplanMeierByGroup({ timeDays: data.time, event: data.status, group });
      const found = testSurvivalDifference(first, second, params.times).map(estimated);
      const wrong = found.flatMap((point, i) => {
        const plain = estimated(point.plain);
        const logLog = estimated(point.logLog);
        const got = [point.first, point.second, point.difference];
        const {
          surv1,
          surv2,
          diff,
          se,
          lower,
          upper,
          z: score,
          p,
          zCloglog,
          chisqCloglog,
          pCloglog,
        } = expected;
        return [
          ...differences(`values ${i}`, got, [surv1[i], surv2[i], diff[i]], tolerance),
          ...differences(
            `plain ${i}`,
            [plain.standardError, plain.lower, plain.upper, plain.z, plain.pValue],
            [se[i], lower[i], upper[i], score[i], p[i]],
            tolerance,
          ),
          ...differences(
            `log-log ${i}`,
            [logLog.z, logLog.chiSquare, logLog.pValue],
            [zCloglog[i], chisqCloglog[i], pCloglog[i]],
            tolerance,
          ),
        ];
      });
      expect(wrong).toEqual([]);
    });
  },
);

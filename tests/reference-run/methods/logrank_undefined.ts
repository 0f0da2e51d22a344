import { z } from 'zod';
import { testLogRank } from '@/lib/statistics';
import { codesOf, label, levelsOf, times } from '../survival-columns';

const shape = z.object({
  time: times,
  status: times,
  group: z.array(label),
  strata: z.array(label).optional(),
});

export function answer(one: { readonly data: unknown }): unknown {
  const { time: timeDays, status: event, group, strata } = shape.parse(one.data);
  const columns = { timeDays, event, group: codesOf(group, levelsOf(group)) };
  const test = testLogRank(strata ? { ...columns, strata: codesOf(strata, levelsOf(strata)) } : columns);
  return { defined: test.kind === 'tested' };
}

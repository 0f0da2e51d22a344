import { z } from 'zod';
import { times } from '../survival-columns';
import { describeCurve } from '../survival-curve';

const shape = z.object({ start: times, stop: times, status: times });
const params = z.object({ times: times.default([]), confLevel: z.number().default(0.95) });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { start: entryDays, stop: timeDays, status: event } = shape.parse(one.data);
  const { times: asked, confLevel } = params.parse(one.params);
  return describeCurve({ timeDays, event, entryDays }, asked, confLevel);
}

import { z } from 'zod';
import { estimateKaplanMeierByGroup, estimateNelsonAalen, type KaplanMeierCurve } from '@/lib/statistics';
import { codesOf, label, levelsOf, times } from '../survival-columns';
import { describeCurves, SCALES } from '../survival-curve';

const shape = z.object({ time: times, status: times, group: z.array(label) });
const params = z.object({ times: times.default([]), confLevel: z.number().default(0.95) });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { time: timeDays, status: event, group } = shape.parse(one.data);
  const { times: asked, confLevel: confidenceLevel } = params.parse(one.params);
  const levels = levelsOf(group);
  const data = { timeDays, event, group: codesOf(group, levels) };
  const byScale = SCALES.map((limits) => estimateKaplanMeierByGroup(data, { limits, confidenceLevel }));
  const groups = levels.map((level, g) => {
    const curves = byScale.map((all) => all[g]);
    return [level, describeCurves(curves, estimateNelsonAalen(rowsOf(curves[0])), asked)];
  });
  return { groups: Object.fromEntries(groups) };
}

/** One row per case of a curve: its times are those of all groups together, equal ones already merged. */
function rowsOf({ timeDays, events, censored }: KaplanMeierCurve): { timeDays: number[]; event: number[] } {
  const times = Array.from(timeDays, (time, i) => Array<number>(events[i] + censored[i]).fill(time));
  const codes = Array.from(timeDays, (_, i) => [
    ...Array<number>(events[i]).fill(1),
    ...Array<number>(censored[i]).fill(0),
  ]);
  return { timeDays: times.flat(), event: codes.flat() };
}

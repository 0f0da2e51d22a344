import 'server-only';
import { now } from '../../runtime/clock';
import { keep } from '../keep';

const since = (windowMinutes: number) => new Date(now().getTime() - windowMinutes * 60_000);

/** Failures noted in a bucket within the window that began with its first failure. */
export function readFailures(bucket: string, windowMinutes: number): Promise<number> {
  return keep(async ({ signInCounter }) => {
    const row = await signInCounter.findUnique({ where: { bucket } });
    return row && row.updatedAt > since(windowMinutes) ? row.failures : 0;
  });
}

/** Notes one failure; a bucket that has been quiet for the window begins anew. */
export function addFailure(bucket: string, windowMinutes: number): Promise<void> {
  return keep(async ({ signInCounter }) => {
    await signInCounter.deleteMany({ where: { bucket, updatedAt: { lte: since(windowMinutes) } } });
    const updatedAt = now();
    await signInCounter.upsert({
      where: { bucket },
      create: { bucket, failures: 1, updatedAt },
      update: { failures: { increment: 1 }, updatedAt },
    });
  });
}

export function clearFailures(bucket: string): Promise<void> {
  return keep(async ({ signInCounter }) => {
    await signInCounter.deleteMany({ where: { bucket } });
  });
}

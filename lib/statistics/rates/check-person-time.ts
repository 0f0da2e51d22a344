import { StatisticsError } from '../errors';

/** Throws unless the time under observation is a finite number of zero or more. */
export function checkPersonTime(name: string, value: number): void {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    const message = `${name} is ${String(value)}; give the summed time under observation.`;
    throw new StatisticsError('notFinite', name, undefined, message);
  }
  if (value < 0) {
    const message = `${name} is ${value}; time under observation is zero or more.`;
    throw new StatisticsError('negative', name, undefined, message);
  }
}

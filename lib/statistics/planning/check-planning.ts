import { StatisticsError } from '../errors';

function refuse(name: string, value: unknown, wanted: string): never {
  throw new StatisticsError('outOfRange', name, undefined, `${name} is ${String(value)}; give ${wanted}.`);
}

/** Throws unless the value lies strictly between 0 and 1. */
export function checkOpenFraction(name: string, value: number): void {
  if (!(value > 0 && value < 1)) refuse(name, value, 'a fraction between 0 and 1');
}

/** Throws unless the value lies between 0 and 1, ends included. */
export function checkFraction(name: string, value: number): void {
  if (!(value >= 0 && value <= 1)) refuse(name, value, 'a fraction from 0 to 1');
}

/** Throws unless the value is finite and above 0. */
export function checkAboveZero(name: string, value: number): void {
  if (!(value > 0 && value < Number.POSITIVE_INFINITY)) refuse(name, value, 'a finite number above 0');
}

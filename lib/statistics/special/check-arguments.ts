import { StatisticsError } from '../errors';

/** Throws unless the value is a number; infinity is one. */
export function checkNumber(name: string, value: number): void {
  if (Number.isNaN(value)) {
    const message = `${name} is not a number; give the value to look up.`;
    throw new StatisticsError('notFinite', name, undefined, message);
  }
}

/** Throws unless the value is a number, zero or more; infinity is one. */
export function checkFromZero(name: string, value: number): void {
  checkNumber(name, value);
  if (value < 0) {
    const message = `${name} is ${value}; this distribution starts at 0.`;
    throw new StatisticsError('negative', name, undefined, message);
  }
}

/** A shape beyond these would outlast the patience of a loop, or leave the range of a double on the way. */
const SMALLEST_SHAPE = 1e-300;
const LARGEST_SHAPE = 1e15;

/** Throws unless the value is one that a shape or degrees of freedom can have. */
export function checkShape(name: string, value: number): void {
  if (!(value >= SMALLEST_SHAPE && value <= LARGEST_SHAPE)) {
    const message = `${name} is ${value}; give a number above 0, from 1e-300 to 1e15.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
}

/** Throws unless the value lies between 0 and 1, both included. */
export function checkFraction(name: string, value: number): void {
  if (!(value >= 0 && value <= 1)) {
    const message = `${name} is ${value}; give a number between 0 and 1.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
}

/** Throws unless 0 < p < 1, as a quantile needs. */
export function checkOpenProbability(p: number): void {
  if (!(p > 0 && p < 1)) {
    const message = `p is ${p}; a quantile needs a probability between 0 and 1.`;
    throw new StatisticsError('outOfRange', 'p', undefined, message);
  }
}

/** Throws unless the value is a whole number from 0 to `most`. */
export function checkWhole(name: string, value: number, most: number): void {
  if (!Number.isFinite(value)) {
    throw new StatisticsError('notFinite', name, undefined, `${name} is ${value}; give a whole number.`);
  }
  if (value < 0) {
    throw new StatisticsError('negative', name, undefined, `${name} is ${value}; a count is zero or more.`);
  }
  if (!Number.isInteger(value)) {
    throw new StatisticsError('notInteger', name, undefined, `${name} is ${value}; give a whole number.`);
  }
  if (value > most) {
    const message = `${name} is ${value}; it can be ${most} at most.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
}

import { type Column, checkCodes, checkEqualLengths, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';

/** One row per case, in the order in which the cases enter: 1 for an event or 0, and its expected probability. */
export type ExpectedOutcomes = {
  readonly event: Column;
  readonly probability: Column;
};

/** @throws StatisticsError unequalLengths, notFinite, unknownCode (event), outOfRange (a probability outside 0 to 1). */
export function checkExpectedOutcomes({ event, probability }: ExpectedOutcomes): void {
  checkEqualLengths({ event, probability });
  checkCodes('event', event, 2);
  checkProbabilities('probability', probability);
}

/** Throws at the first value that is not a number from 0 to 1. */
export function checkProbabilities(name: string, column: Column): void {
  checkFinite(name, column);
  for (let i = 0; i < column.length; i += 1) {
    if (column[i] < 0 || column[i] > 1) {
      const message = `${name}[${i}] is ${column[i]}; give a probability between 0 and 1.`;
      throw new StatisticsError('outOfRange', name, i, message);
    }
  }
}

/** Throws unless the setting is a finite number. */
export function checkSetting(name: string, value: number): void {
  if (!Number.isFinite(value)) {
    throw new StatisticsError('notFinite', name, undefined, `${name} is ${value}; give a finite number.`);
  }
}

/** Throws unless the setting is a finite number above 0. */
export function checkAboveZero(name: string, value: number): void {
  checkSetting(name, value);
  if (value <= 0) {
    const message = `${name} is ${value}; give a number above 0.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
}

/** Throws unless the setting is a finite number, zero or more. */
export function checkFromZero(name: string, value: number): void {
  checkSetting(name, value);
  if (value < 0) {
    throw new StatisticsError('negative', name, undefined, `${name} is ${value}; give zero or more.`);
  }
}

/** Throws unless the setting lies between 0 and 1, both included. */
export function checkFraction(name: string, value: number): void {
  if (!(value >= 0 && value <= 1)) {
    const message = `${name} is ${value}; give a fraction between 0 and 1.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
}

/** Throws unless the setting lies strictly between 0 and 1. */
export function checkOpenFraction(name: string, value: number): void {
  if (!(value > 0 && value < 1)) {
    const message = `${name} is ${value}; give a fraction between 0 and 1, neither included.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
}

/** The share of the newest value in a moving average: above 0, at most 1. */
export function checkNewestShare(value: number): void {
  if (!(value > 0 && value <= 1)) {
    const message = `newestShare is ${value}; give a fraction above 0 and at most 1.`;
    throw new StatisticsError('outOfRange', 'newestShare', undefined, message);
  }
}

/** Throws unless the setting is a whole number, at least `least`. */
export function checkWholeFrom(name: string, value: number, least: number): void {
  checkSetting(name, value);
  if (!Number.isInteger(value)) {
    throw new StatisticsError('notInteger', name, undefined, `${name} is ${value}; give a whole number.`);
  }
  if (value < least) {
    const message = `${name} is ${value}; give ${least} or more.`;
    throw new StatisticsError('outOfRange', name, undefined, message);
  }
}

/** A grid this fine needs seconds; a finer one brings nothing. */
const MOST_CELLS = 5000;

/** Throws unless the number of grid cells is a whole number from 1 to 5000. */
export function checkCells(cells: number): void {
  checkWholeFrom('cells', cells, 1);
  if (cells > MOST_CELLS) {
    const message = `cells is ${cells}; give ${MOST_CELLS} at most.`;
    throw new StatisticsError('outOfRange', 'cells', undefined, message);
  }
}

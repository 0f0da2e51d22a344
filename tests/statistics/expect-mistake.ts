import { expect } from 'vitest';
import { StatisticsError, type StatisticsErrorCode } from '@/lib/statistics';

/** Expects a StatisticsError with this code, argument and row; the message must name the argument. */
export function expectMistake(
  run: () => unknown,
  code: StatisticsErrorCode,
  argument: string,
  index?: number,
): void {
  let thrown: unknown;
  try {
    run();
  } catch (error) {
    thrown = error;
  }
  expect(thrown).toBeInstanceOf(StatisticsError);
  if (!(thrown instanceof StatisticsError)) return;
  expect({ code: thrown.code, argument: thrown.argument, index: thrown.index }).toEqual({
    code,
    argument,
    index,
  });
  expect(thrown.message).toContain(argument);
}

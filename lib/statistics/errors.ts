/** What a caller can get wrong. Legitimate absence (no events, median not reached) is a tagged result instead. */
export type StatisticsErrorCode =
  | 'unequalLengths'
  | 'notFinite'
  | 'negative'
  | 'notInteger'
  | 'unknownCode'
  | 'entryNotBeforeExit'
  | 'outOfRange';

/**
 * A caller's mistake. `argument` names the input, `index` the first offending row (undefined when the whole
 * input is at fault), `code` the kind of mistake. The message says what, where and how to mend it.
 */
export class StatisticsError extends Error {
  readonly code: StatisticsErrorCode;
  readonly argument: string;
  readonly index: number | undefined;

  constructor(code: StatisticsErrorCode, argument: string, index: number | undefined, message: string) {
    super(message);
    this.name = 'StatisticsError';
    this.code = code;
    this.argument = argument;
    this.index = index;
  }
}

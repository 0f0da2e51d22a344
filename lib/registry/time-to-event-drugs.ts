/** Earlier than any day: an integer, so that the fields stay integers. */
const BEFORE_ALL = -0x3fff_ffff;

/**
 * Follows class I and III drugs through one case's starts and stops, given in day order (starts before stops on one
 * day). A stop day is the last day on which the drug was taken. Starts and stops carry no name: drugs are counted.
 */
export class DrugWatch {
  /** Must be off: drugs taken on the first unblanked day. Resumption: drugs started and not yet forgotten as stopped. */
  private running = 0;
  private stopped = 0;
  private latestStop = BEFORE_ALL;

  constructor(
    private readonly mustBeOff: boolean,
    private readonly firstUnblankedDay: number,
  ) {}

  /** Begins a new case. */
  reset(): void {
    this.running = 0;
    this.stopped = 0;
    this.latestStop = BEFORE_ALL;
  }

  /** Takes a start; true when starting on that day is by itself an event. A day's first start speaks for the day. */
  start(day: number): boolean {
    if (this.mustBeOff) {
      if (day > this.firstUnblankedDay) return true;
      this.running++;
      return false;
    }
    // Drugs last taken before yesterday left a drug-free day. While one was still taken yesterday there was none, and
    // the others that stopped earlier need not be told apart yet.
    if (this.latestStop < day - 1) {
      this.running = Math.max(0, this.running - this.stopped);
      this.stopped = 0;
    }
    this.running++;
    return day >= this.firstUnblankedDay && this.running === 1;
  }

  stop(day: number): void {
    if (!this.mustBeOff) {
      this.latestStop = day;
      this.stopped++;
    } else if (day < this.firstUnblankedDay) {
      this.running = Math.max(0, this.running - 1);
    }
  }

  /** Must be off: true when a drug is taken on the first unblanked day, once all starts and stops up to it are in. */
  get onAtFirstUnblankedDay(): boolean {
    return this.mustBeOff && this.running > 0;
  }
}

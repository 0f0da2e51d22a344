/**
 * Follows class I and III drugs through one case's starts and stops, given in day order (starts before stops on one
 * day). A stop day is the last day on which the drug was taken. Starts and stops carry no name: drugs are counted.
 */
export class DrugWatch {
  /** Drugs taken: on the first unblanked day (must be off), or on the latest day gone through (resumption). */
  private running = 0;
  private startsDay = Number.NEGATIVE_INFINITY;
  private startsThatDay = 0;
  private stopsDay = Number.NEGATIVE_INFINITY;
  private stopsThatDay = 0;

  constructor(
    private readonly mustBeOff: boolean,
    private readonly firstUnblankedDay: number,
  ) {}

  /** Begins a new case. */
  reset(): void {
    this.running = 0;
    this.startsDay = Number.NEGATIVE_INFINITY;
    this.startsThatDay = 0;
    this.stopsDay = Number.NEGATIVE_INFINITY;
    this.stopsThatDay = 0;
  }

  /** Takes a start; true when starting on that day is by itself an event. */
  start(day: number): boolean {
    if (this.mustBeOff) {
      if (day > this.firstUnblankedDay) return true;
      this.running++;
      return false;
    }
    // A drug last taken before yesterday left a drug-free day; one that was still taken yesterday did not.
    if (this.stopsDay < day - 1) this.forgetStopped();
    if (this.startsDay !== day) {
      this.startsDay = day;
      this.startsThatDay = 0;
    }
    const takenDayBefore = this.running - this.startsThatDay;
    this.running++;
    this.startsThatDay++;
    return day >= this.firstUnblankedDay && takenDayBefore === 0;
  }

  stop(day: number): void {
    if (this.mustBeOff) {
      if (day < this.firstUnblankedDay) this.running = Math.max(0, this.running - 1);
      return;
    }
    if (this.stopsDay !== day) this.forgetStopped();
    this.stopsDay = day;
    this.stopsThatDay++;
  }

  /** Must be off: true when a drug is taken on the first unblanked day, once all starts and stops up to it are in. */
  get onAtFirstUnblankedDay(): boolean {
    return this.mustBeOff && this.running > 0;
  }

  private forgetStopped(): void {
    this.running = Math.max(0, this.running - this.stopsThatDay);
    this.stopsThatDay = 0;
  }
}

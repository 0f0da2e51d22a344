import type { Cohort } from './cohort';
import type { EndpointRules } from './endpoint-rules';
import {
  EVIDENCE_STRIDE,
  gradeIndexOf,
  ITEM_KIND,
  isDayByDay,
  kindOf,
  rhythmIndexOf,
} from './rhythm-evidence';
import { CAUSE, EXCLUSION_REASONS, type ExclusionReason } from './time-to-event-causes';
import { DrugWatch } from './time-to-event-drugs';
import { judgeRecording, type RecordingTest, recordingTestOf, VERDICT } from './time-to-event-recording';
import { EVIDENCE_GRADES, RHYTHMS } from './vocabulary';

/** Later than any day; `NEVER` is later still, so that nothing that never counts is seen. */
const FAR = 0x3fff_fffe;
const NEVER = 0x3fff_ffff;
const AF = RHYTHMS.findIndex((term) => term.code === 'af');
const CONTINUOUS = EVIDENCE_GRADES.findIndex((term) => term.code === 'continuous');
const reasonIndex = (code: ExclusionReason): number =>
  EXCLUSION_REASONS.findIndex((term) => term.code === code);
const REASON = {
  notFirst: reasonIndex('not-first-procedure'),
  notLast: reasonIndex('not-last-procedure'),
  repeatInBlanking: reasonIndex('repeat-in-blanking'),
  deathInBlanking: reasonIndex('death-in-blanking'),
  beforeRepeat: reasonIndex('no-recording-before-repeat'),
  beforeDeath: reasonIndex('no-recording-before-death'),
  drugStatus: reasonIndex('drug-status-unknown-after-blanking'),
  noRecording: reasonIndex('no-recording-after-blanking'),
};

/**
 * Derives one case after the other into its own fields, so that a cohort is derived without allocating. The rules in
 * words, with the reason for each choice: docs/methods/endpoint.md.
 */
export class CaseDerivation {
  /** u in the rules: the first day that is not blanked. */
  readonly firstUnblankedDay: number;
  readonly entryDay: number;

  timeDays = 0;
  status = 0;
  cause = 0;
  intervalLeft = 0;
  intervalRight = 0;
  decidingItem = -1;
  /** Index into EXCLUSION_REASONS, when `derive` answered false. */
  exclusion = 0;

  private readonly test: RecordingTest;
  /** The last day before the first unblanked one, never negative: no event of the endpoint lies on or before it. */
  private readonly opensDay: number;
  private readonly drugsMatter: boolean;
  private readonly drugs: DrugWatch;
  private readonly deathCounts: boolean;
  private readonly repeatFails: boolean;
  private from = 0;
  private to = 0;
  private next = -1;
  private death = -1;
  /** Where looking stops: next procedure or death, whichever comes first, whatever is known about drugs. */
  private stopDay = FAR;
  /** Set by findEvent. */
  private eventDay = -1;
  private eventCause = 0;
  private eventItem = -1;
  /** Earliest day on which an implanted device found what counts: its onsets are exact. */
  private continuousDay = NEVER;
  /** Set by findLastNegative. */
  private negativeItem = -1;

  constructor(
    private readonly cohort: Cohort,
    private readonly rules: EndpointRules,
  ) {
    this.test = recordingTestOf(rules);
    this.firstUnblankedDay = rules.blankingEndInclusive ? rules.blankingDays + 1 : rules.blankingDays;
    this.opensDay = Math.max(0, this.firstUnblankedDay - 1);
    this.deathCounts = rules.deathRule !== 'censoring';
    this.entryDay = this.deathCounts ? 0 : this.opensDay;
    this.drugsMatter = rules.drugRule !== 'ignored';
    this.drugs = new DrugWatch(rules.drugRule === 'must-be-off', this.firstUnblankedDay);
    this.repeatFails = rules.repeatRule === 'failure';
  }

  /** True: the fields hold the case's outcome. False: `exclusion` holds the reason. */
  derive(index: number): boolean {
    const { cohort } = this;
    if (this.rules.start === 'first-procedure' && cohort.ordinal[index] !== 1)
      return this.exclude(REASON.notFirst);
    if (this.rules.start === 'last-procedure' && cohort.daysToNext[index] >= 0)
      return this.exclude(REASON.notLast);
    this.from = cohort.evidenceStart[index];
    this.to = cohort.evidenceStart[index + 1];
    this.next = cohort.daysToNext[index];
    this.death = cohort.daysToDeath[index];
    this.stopDay = Math.min(this.next < 0 ? FAR : this.next, this.death < 0 ? FAR : this.death);
    const drugsKnownThrough = this.drugsMatter ? this.findDrugsKnownThrough() : FAR;
    if (this.findEvent(drugsKnownThrough)) return this.endWithEvent();
    const seenThrough = Math.min(this.stopDay, drugsKnownThrough);
    const lastNegative = this.findLastNegative(seenThrough);
    if (lastNegative >= 0) return this.endCensored(lastNegative, drugsKnownThrough);
    return this.exclude(this.reasonForNoTime(drugsKnownThrough));
  }

  private exclude(reason: number): false {
    this.exclusion = reason;
    return false;
  }

  /**
   * The last day on which the drugs are known. During blanking they need not be known, since no drug counts there: the
   * answer is never before the last blanked day.
   */
  private findDrugsKnownThrough(): number {
    const { evidence } = this.cohort;
    for (let at = this.to - EVIDENCE_STRIDE; at >= this.from; at -= EVIDENCE_STRIDE) {
      const day = evidence[at];
      if (day < this.firstUnblankedDay) break;
      const kind = kindOf(evidence[at + 1]);
      const tells =
        kind === ITEM_KIND.drugsKnown || kind === ITEM_KIND.drugStart || kind === ITEM_KIND.drugStop;
      if (tells && day <= this.stopDay) return day;
    }
    return this.firstUnblankedDay - 1;
  }

  /** Keeps the earliest event; on one day the lower cause, which is the order within a day. */
  private consider(day: number, cause: number, item: number): void {
    if (this.eventDay >= 0 && (day > this.eventDay || (day === this.eventDay && cause >= this.eventCause)))
      return;
    this.eventDay = day;
    this.eventCause = cause;
    this.eventItem = item;
  }

  /** Finds the earliest event among what the drugs' last known day lets us see. False: none. */
  private findEvent(drugsKnownThrough: number): boolean {
    this.eventDay = -1;
    this.continuousDay = NEVER;
    this.considerEvidence(Math.min(this.stopDay, drugsKnownThrough));
    const { next, death, firstUnblankedDay } = this;
    if (this.repeatFails && next >= 0 && next === this.stopDay && next <= drugsKnownThrough) {
      this.consider(Math.max(next, firstUnblankedDay), CAUSE.repeat, -1);
    }
    if (this.deathCounts && death >= 0 && death <= drugsKnownThrough) {
      // A repeat in blanking fails a first procedure only when blanking ends; a death before that comes first. Each
      // procedure, however, stops at the next one: the death is that one's.
      const comesFirst =
        next < 0 || death < next || (this.repeatFails && this.rules.start === 'first-procedure');
      if (comesFirst) this.consider(death, CAUSE.death, -1);
    }
    return this.eventDay >= 0;
  }

  private considerEvidence(seenThrough: number): void {
    const { evidence } = this.cohort;
    const u = this.firstUnblankedDay;
    this.drugs.reset();
    for (let at = this.from; at < this.to; at += EVIDENCE_STRIDE) {
      const day = evidence[at];
      if (day > seenThrough || (this.eventDay >= 0 && day > this.eventDay)) break;
      const code = evidence[at + 1];
      const kind = kindOf(code);
      if (kind === ITEM_KIND.recording) {
        if (day < 0) continue;
        // A recorded episode that runs from blanking into the first unblanked day counts on that day.
        const counted = day >= u ? day : evidence[at + 3] >= u ? u : NEVER;
        if (counted > seenThrough || judgeRecording(this.test, code, evidence[at + 2]) !== VERDICT.positive)
          continue;
        this.consider(counted, rhythmIndexOf(code) === AF ? CAUSE.recordingAf : CAUSE.recordingAtAfl, at);
        if (gradeIndexOf(code) === CONTINUOUS) this.continuousDay = Math.min(this.continuousDay, counted);
      } else if (kind === ITEM_KIND.cardioversion) {
        if (this.rules.cardioversionCounts && day >= u) this.consider(day, CAUSE.cardioversion, at);
      } else if (this.drugsMatter && kind === ITEM_KIND.drugStart) {
        if (this.drugs.start(day)) this.consider(day, CAUSE.drug, at);
      } else if (this.drugsMatter && kind === ITEM_KIND.drugStop) {
        this.drugs.stop(day);
      }
    }
    if (this.drugsMatter && this.drugs.onAtFirstUnblankedDay && u <= seenThrough)
      this.consider(u, CAUSE.drug, -1);
  }

  /** The last unblanked day, up to `through`, on which a qualifying negative recording ended; -1 when there is none. */
  private findLastNegative(through: number): number {
    const { evidence } = this.cohort;
    let last = -1;
    this.negativeItem = -1;
    for (let at = this.from; at < this.to; at += EVIDENCE_STRIDE) {
      const day = evidence[at];
      if (day > through) break;
      const code = evidence[at + 1];
      // What it did not show, it did not show up to its own last day, whatever else it found; what is known day by day is
      // read up to the day where looking stops.
      const lastDay = evidence[at + 4];
      const endDay = isDayByDay(code) ? Math.min(lastDay, through) : lastDay;
      if (day < 0 || kindOf(code) !== ITEM_KIND.recording) continue;
      if (endDay < this.firstUnblankedDay || endDay > through || endDay < last) continue;
      if (judgeRecording(this.test, code, evidence[at + 2]) !== VERDICT.negative) continue;
      last = endDay;
      this.negativeItem = at;
    }
    return last;
  }

  private endWithEvent(): true {
    const day = this.eventDay;
    const competing = this.eventCause === CAUSE.death && this.rules.deathRule === 'competing';
    const recorded = this.eventCause <= CAUSE.recordingAtAfl;
    this.timeDays = day;
    this.status = competing ? 2 : 1;
    this.cause = this.eventCause;
    this.decidingItem = this.eventItem;
    this.intervalLeft = day;
    this.intervalRight = day;
    if (competing) {
      this.intervalLeft = Math.max(this.opensDay, this.findLastNegative(day));
      this.intervalRight = -1;
    } else if (recorded && this.continuousDay !== day) {
      this.intervalLeft = Math.max(this.opensDay, this.findLastNegative(day - 1));
    }
    return true;
  }

  private endCensored(lastNegative: number, drugsKnownThrough: number): true {
    this.timeDays = lastNegative;
    this.status = 0;
    this.decidingItem = this.negativeItem;
    this.intervalLeft = lastNegative;
    this.intervalRight = -1;
    if (this.endedByDrugStatus(drugsKnownThrough, lastNegative)) this.cause = CAUSE.drugStatusUnknown;
    else if (this.next >= 0 && this.next === this.stopDay) this.cause = CAUSE.atRepeat;
    else this.cause = this.death >= 0 ? CAUSE.atDeath : CAUSE.lastRecording;
    return true;
  }

  private reasonForNoTime(drugsKnownThrough: number): number {
    const repeatStops = this.next >= 0 && this.next === this.stopDay;
    if (this.stopDay < this.firstUnblankedDay)
      return repeatStops ? REASON.repeatInBlanking : REASON.deathInBlanking;
    if (this.endedByDrugStatus(drugsKnownThrough, -1)) return REASON.drugStatus;
    if (repeatStops) return REASON.beforeRepeat;
    return this.death >= 0 ? REASON.beforeDeath : REASON.noRecording;
  }

  /** True when the case would have gone on, or ended otherwise, had the drugs been known throughout. */
  private endedByDrugStatus(drugsKnownThrough: number, lastNegative: number): boolean {
    if (drugsKnownThrough >= this.stopDay) return false;
    return this.findEvent(FAR) || this.findLastNegative(this.stopDay) > lastNegative;
  }
}

import fc from 'fast-check';

/** Generated follow-up: one row per case, status 0 to 2, entry before exit, two strata, up to three groups. */
export type FollowUp = {
  readonly timeDays: number[];
  readonly event: number[];
  readonly status: number[];
  readonly entryDays: number[];
  readonly group: number[];
  readonly strata: number[];
};

/** Follow-up with many ties; `scale` turns whole days into fractions for the sorted path. */
export function followUp(minRows = 1, scale = 1): fc.Arbitrary<FollowUp> {
  const row = fc.record({
    day: fc.integer({ min: 1, max: 30 }),
    status: fc.integer({ min: 0, max: 2 }),
    entryShare: fc.integer({ min: 0, max: 9 }),
    group: fc.integer({ min: 0, max: 2 }),
    stratum: fc.integer({ min: 0, max: 1 }),
  });
  return fc.array(row, { minLength: minRows, maxLength: 60 }).map((rows) => ({
    timeDays: rows.map(({ day }) => day * scale),
    event: rows.map(({ status }) => Math.min(1, status)),
    status: rows.map(({ status }) => status),
    entryDays: rows.map(({ day, entryShare }) => Math.floor((day * entryShare) / 10) * scale),
    group: rows.map(({ group }) => group),
    strata: rows.map(({ stratum }) => stratum),
  }));
}

/** The rows in reverse: every estimate must be the same. */
export function reversed(data: FollowUp): FollowUp {
  return {
    timeDays: data.timeDays.toReversed(),
    event: data.event.toReversed(),
    status: data.status.toReversed(),
    entryDays: data.entryDays.toReversed(),
    group: data.group.toReversed(),
    strata: data.strata.toReversed(),
  };
}

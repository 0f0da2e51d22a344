import { describe, expect, it } from 'vitest';
import {
  type CaseCompleteness,
  isDisagreement,
  missingForEntered,
  missingForSigned,
  nextStateOf,
} from '@/lib/registry/case-state';

const WHOLE: CaseCompleteness = {
  state: 'draft',
  values: {
    ageYears: '63',
    operatorId: 'x',
    indication: 'heart-failure',
    intendedStrategy: 'wide-encircling',
    anticoagulation: 'uninterrupted',
    thrombusExclusion: 'toe',
    rhythmAtStart: 'af',
    rhythmAtEnd: 'sinus',
    procedureMinutes: '150',
    dischargedOn: '2024-03-02',
    'baseline.afType': 'paroxysmal',
    'baseline.legalBasis': 'consent',
    'baseline.lvefPct': '55',
    'baseline.laDiameterMm': '44',
  },
  lesions: { elements: 16, notRecorded: 0, entranceBlock: 'yes', isSingleShot: false },
  strategy: { intended: 'wide-encircling', derived: 'wide-encircling', settled: null },
};
const having = (more: object, lesions: object = {}, strategy: object = {}): CaseCompleteness => ({
  ...WHOLE,
  values: { ...WHOLE.values, ...more },
  lesions: { ...WHOLE.lesions, ...lesions },
  strategy: { ...WHOLE.strategy, ...strategy },
});
const fields = (facts: CaseCompleteness, next = missingForEntered) => next(facts).map(({ field }) => field);

/** Ours (common practice, no source). */
describe('what a case still needs', () => {
  it('is nothing when all is there', () => {
    expect(missingForEntered(WHOLE)).toEqual([]);
    expect(missingForSigned(WHOLE)).toEqual([]);
  });

  it.each(
    Object.keys(WHOLE.values).filter((field) => !['dischargedOn', 'baseline.laDiameterMm'].includes(field)),
  )('is %s before it counts as entered', (field) => {
    expect(fields(having({ [field]: '' }))).toEqual([field]);
  });

  it('is one size of the left atrium, whichever', () => {
    expect(fields(having({ 'baseline.laDiameterMm': '' }))).toEqual(['baseline.laDiameterMm']);
    const volume = { 'baseline.laDiameterMm': '', 'baseline.laVolumeIndexMlM2': '38' };
    expect(fields(having(volume))).toEqual([]);
  });

  it('is a lesion set, unless the device has no segments or the procedure was broken off', () => {
    expect(missingForEntered(having({}, { elements: 0 })).map(({ what }) => what)).toEqual(['Lesion set']);
    expect(fields(having({}, { elements: 0, isSingleShot: true }))).toEqual([]);
    const aborted = { abortedReason: 'thrombus' };
    expect(fields(having(aborted, { elements: 0, entranceBlock: null }))).toEqual([]);
    expect(fields(having({}, { entranceBlock: null }))).toEqual(['entranceBlock']);
  });

  it('is, before it is signed, the discharge, every segment, and an answer to a disagreement', () => {
    const open = having({ dischargedOn: '' }, { notRecorded: 2 }, { derived: 'wide-with-lines' });
    expect(fields(open)).toEqual([]);
    expect(missingForSigned(open).map(({ what }) => what)).toEqual([
      'Day of discharge',
      '2 segments of the lesion set not recorded',
      'Label and lesions name different strategies: settle which holds',
    ]);
    const one = having({}, { notRecorded: 1 });
    expect(missingForSigned(one)[0]?.what).toBe('1 segment of the lesion set not recorded');
  });

  it('is told for the next state only', () => {
    expect(nextStateOf(WHOLE)).toEqual({ next: 'entered', missing: [] });
    expect(nextStateOf({ ...WHOLE, state: 'entered' })).toEqual({ next: 'signed', missing: [] });
    expect(nextStateOf({ ...WHOLE, state: 'signed' })).toBeNull();
  });
});

describe('label and lesions', () => {
  it.each([
    ['ostial', 'wide-encircling', null, true],
    ['ostial', 'ostial', null, false],
    ['ostial', 'wide-encircling', 'ostial', false],
    [null, 'ostial', null, false],
    ['ostial', null, null, false],
    ['ostial', 'not-derivable', null, false],
  ])('%s against %s, settled as %s: disagree %s', (intended, derived, settled, expected) => {
    expect(isDisagreement({ intended, derived, settled })).toBe(expected);
  });
});

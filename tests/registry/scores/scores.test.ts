import { describe, expect, it } from 'vitest';
import { computeScores, SCORES, yearsBetween } from '@/lib/registry/scores/list';
import { ALARMEC, APPLE, BASE_AF2, CAAP_AF, HATCH, MB_LATER } from '@/lib/registry/scores/recurrence';
import { computeScore, type Score, type ScoreFacts } from '@/lib/registry/scores/score';
import { CHA2DS2_VA, CHA2DS2_VASC, HAS_BLED } from '@/lib/registry/scores/stroke-and-bleeding';
import { EVERYTHING, NOTHING } from './score-facts';

function pointsOf(score: Score, more: Partial<ScoreFacts>): number | string {
  const result = computeScore(score, { ...NOTHING, ...more });
  return result.kind === 'complete'
    ? result.points
    : `${result.least} to ${result.atMost}, missing ${result.missing}`;
}

/** Printed ranges: Lip 2010, ESC 2024, Pisters 2010, Kornej 2015, Winkle 2016, HATCH, ALARMEc, Mujović 2017, BASE-AF2. */
const PRINTED_MOST: Readonly<Record<string, number>> = {
  'cha2ds2-va': 8,
  'cha2ds2-vasc': 9,
  'has-bled': 9,
  apple: 5,
  'caap-af': 13,
  hatch: 7,
  alarmec: 5,
  'mb-later': 6,
  'base-af2': 6,
};

describe('every score', () => {
  it.each(SCORES.map((score) => [score.code, score] as const))(
    '%s runs from 0 to the printed most',
    (code, score) => {
      expect(computeScore(score, NOTHING)).toMatchObject({
        kind: 'complete',
        points: score === MB_LATER ? 1 : 0,
        most: PRINTED_MOST[code],
      });
      const everything = { ...EVERYTHING, sex: score === MB_LATER ? 'male' : 'female' } as const;
      expect(computeScore(score, everything)).toMatchObject({ kind: 'complete', points: PRINTED_MOST[code] });
    },
  );

  it.each(
    SCORES.flatMap((score) => score.items.map((item) => [score.code, item.label, score, item] as const)),
  )('%s, %s: gives no points beyond its most, and none without its facts', (_code, _label, score, item) => {
    expect(item.points(EVERYTHING)).toBeLessThanOrEqual(item.most);
    const unknown = Object.fromEntries(
      item.fields.map((field) => [field, field === 'sex' ? 'unknown' : null]),
    );
    const result = computeScore(score, { ...NOTHING, ...unknown });
    expect(result.kind).toBe('incomplete');
    if (result.kind !== 'incomplete') return;
    expect(result.missing).toEqual(expect.arrayContaining([item.fields[0]]));
    expect(result.atMost - result.least).toBeGreaterThanOrEqual(item.most);
  });

  it('says what is from memory unless every point was read in the source', () => {
    const silent = SCORES.filter(({ fromMemory }) => fromMemory === '').map(({ code }) => code);
    expect(silent).toEqual(['cha2ds2-va', 'apple']);
  });

  it('that needs early recurrence is known from the end of blanking only', () => {
    const late = SCORES.filter(({ items }) => items.some(({ fields }) => fields.includes('earlyRecurrence')));
    expect(late.map(({ code }) => code)).toEqual(['mb-later', 'base-af2']);
    expect(SCORES.filter(({ knownFrom }) => knownFrom === 'end of blanking')).toEqual(late);
    expect(
      computeScores({ ...EVERYTHING, earlyRecurrence: null })
        .filter(({ kind }) => kind === 'incomplete')
        .map(({ score }) => score.code),
    ).toEqual(['mb-later', 'base-af2']);
  });
});

describe('boundaries', () => {
  it.each<[string, Score, Partial<ScoreFacts>, number | string]>([
    ['APPLE, age exactly 65', APPLE, { ageYears: 65 }, 0],
    ['APPLE, age 66', APPLE, { ageYears: 66 }, 1],
    ['APPLE, LA exactly 43 mm', APPLE, { laDiameterMm: 43 }, 1],
    ['APPLE, LA 42 mm', APPLE, { laDiameterMm: 42 }, 0],
    ['APPLE, eGFR exactly 60', APPLE, { egfrMlMin173m2: 60 }, 0],
    ['APPLE, eGFR 59', APPLE, { egfrMlMin173m2: 59 }, 1],
    ['APPLE, LVEF exactly 50', APPLE, { lvefPct: 50 }, 0],
    ['APPLE, LVEF 49', APPLE, { lvefPct: 49 }, 1],
    ['APPLE, early persistent', APPLE, { afType: 'early-persistent' }, 1],
    ['CHA2DS2-VASc, age 64', CHA2DS2_VASC, { ageYears: 64 }, 0],
    ['CHA2DS2-VASc, age exactly 65', CHA2DS2_VASC, { ageYears: 65 }, 1],
    ['CHA2DS2-VASc, age 74', CHA2DS2_VASC, { ageYears: 74 }, 1],
    ['CHA2DS2-VASc, age exactly 75', CHA2DS2_VASC, { ageYears: 75 }, 2],
    ['CHA2DS2-VASc, a woman', CHA2DS2_VASC, { sex: 'female' }, 1],
    ['CHA2DS2-VA, a woman', CHA2DS2_VA, { sex: 'female' }, 0],
    ['CHA2DS2-VA, LVEF exactly 40 without symptoms', CHA2DS2_VA, { lvefPct: 40 }, 1],
    ['CHA2DS2-VA, LVEF 41', CHA2DS2_VA, { lvefPct: 41 }, 0],
    ['CHA2DS2-VA, failure not known but LVEF 35', CHA2DS2_VA, { heartFailure: null, lvefPct: 35 }, 1],
    [
      'CHA2DS2-VA, failure not known, LVEF 60',
      CHA2DS2_VA,
      { heartFailure: null },
      '0 to 1, missing heartFailure',
    ],
    ['HAS-BLED, age exactly 65', HAS_BLED, { ageYears: 65 }, 0],
    ['HAS-BLED, age 66', HAS_BLED, { ageYears: 66 }, 1],
    ['CAAP-AF, LA 39 mm', CAAP_AF, { laDiameterMm: 39 }, 0],
    ['CAAP-AF, LA 40 mm', CAAP_AF, { laDiameterMm: 40 }, 1],
    ['CAAP-AF, LA 45 mm', CAAP_AF, { laDiameterMm: 45 }, 2],
    ['CAAP-AF, LA 50 mm', CAAP_AF, { laDiameterMm: 50 }, 3],
    ['CAAP-AF, LA 54 mm', CAAP_AF, { laDiameterMm: 54 }, 3],
    ['CAAP-AF, LA 55 mm', CAAP_AF, { laDiameterMm: 55 }, 4],
    ['CAAP-AF, age 49', CAAP_AF, { ageYears: 49 }, 0],
    ['CAAP-AF, age 50', CAAP_AF, { ageYears: 50 }, 1],
    ['CAAP-AF, age 60', CAAP_AF, { ageYears: 60 }, 2],
    ['CAAP-AF, age 70', CAAP_AF, { ageYears: 70 }, 3],
    ['CAAP-AF, persistent', CAAP_AF, { afType: 'persistent' }, 2],
    ['CAAP-AF, one failed drug', CAAP_AF, { failedAntiarrhythmics: 1 }, 1],
    ['CAAP-AF, two failed drugs', CAAP_AF, { failedAntiarrhythmics: 2 }, 1],
    ['CAAP-AF, three failed drugs', CAAP_AF, { failedAntiarrhythmics: 3 }, 2],
    ['HATCH, age exactly 75', HATCH, { ageYears: 75 }, 0],
    ['HATCH, age 76', HATCH, { ageYears: 76 }, 1],
    ['HATCH, stroke and heart failure', HATCH, { strokeHistory: true, heartFailure: true }, 4],
    ['ALARMEc, eGFR exactly 68', ALARMEC, { egfrMlMin173m2: 68 }, 0],
    ['ALARMEc, eGFR 67', ALARMEC, { egfrMlMin173m2: 67 }, 1],
    ['ALARMEc, LA area 10.2', ALARMEC, { laAreaIndexCm2M2: 10.2 }, 0],
    ['ALARMEc, LA area 10.3', ALARMEC, { laAreaIndexCm2M2: 10.3 }, 1],
    ['MB-LATER, a man, LA 46 mm', MB_LATER, { laDiameterMm: 46 }, 1],
    ['MB-LATER, a man, LA exactly 47 mm', MB_LATER, { laDiameterMm: 47 }, 2],
    ['MB-LATER, a woman, persistent', MB_LATER, { sex: 'female', afType: 'persistent' }, 1],
    ['MB-LATER, a woman, long-standing', MB_LATER, { sex: 'female', afType: 'long-standing-persistent' }, 2],
    ['BASE-AF2, BMI exactly 28', BASE_AF2, { bmiKgM2: 28 }, 0],
    ['BASE-AF2, BMI 28.1', BASE_AF2, { bmiKgM2: 28.1 }, 1],
    ['BASE-AF2, LA exactly 40 mm', BASE_AF2, { laDiameterMm: 40 }, 0],
    ['BASE-AF2, LA 41 mm', BASE_AF2, { laDiameterMm: 41 }, 1],
    ['BASE-AF2, calendar years 5 apart', BASE_AF2, { afYears: yearsBetween(2015, 2020) }, 0],
    [
      'BASE-AF2, calendar years 6 apart: not decided',
      BASE_AF2,
      { afYears: yearsBetween(2014, 2020) },
      '0 to 1, missing afYears',
    ],
    ['BASE-AF2, calendar years 7 apart', BASE_AF2, { afYears: yearsBetween(2013, 2020) }, 1],
  ])('%s', (_what, score, facts, expected) => {
    expect(pointsOf(score, facts)).toBe(expected);
  });

  it('names only what is missing, not what its item also reads', () => {
    expect(pointsOf(CHA2DS2_VA, { heartFailure: null, lvefPct: null })).toBe(
      '0 to 1, missing heartFailure,lvefPct',
    );
    expect(pointsOf(CHA2DS2_VASC, { sex: 'unknown', diabetes: null })).toBe('0 to 2, missing diabetes,sex');
  });

  it('never takes the same calendar year for less than no time', () => {
    expect(yearsBetween(2020, 2020)).toEqual({ least: 0, most: 1 });
  });
});

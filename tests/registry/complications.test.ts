import { describe, expect, it } from 'vitest';
import {
  COMPLICATION_TYPES,
  type ComplicationCode,
  HARMS,
  type Harm,
  isUsualOnset,
  MAJOR_HARMS,
  severityOf,
} from '@/lib/registry/complications';

const ALL = HARMS.map((harm) => harm.code);
const OTHER_HARMS: readonly Harm[] = ['readmission', 'transfusion', 'over-30-days'];

// By type, the harms beyond death, permanent injury, intervention and more than 48 h in hospital that make it major.
// 2017 consensus, from memory; the grouping of types not named there is ours.
const ALSO_MAJOR: Partial<Record<ComplicationCode, readonly Harm[]>> = {
  tia: ['readmission'],
  'systemic-embolism': ['readmission'],
  'gastric-hypomotility': ['readmission', 'over-30-days'],
  pericarditis: ['readmission', 'over-30-days'],
  haematoma: ['transfusion', 'readmission'],
  'pseudo-aneurysm': ['transfusion', 'readmission'],
  'av-fistula': ['transfusion', 'readmission'],
  'bleeding-other': ['transfusion', 'readmission'],
  'volume-overload': ['readmission'],
  'kidney-injury': ['readmission'],
  haemolysis: ['readmission', 'transfusion'],
  'venous-thrombosis': ['readmission'],
  infection: ['readmission'],
  anaesthesia: ['readmission'],
  other: ['readmission'],
};
const MAJOR_BY_NATURE: readonly ComplicationCode[] = [
  'death',
  'tamponade',
  'stroke',
  'myocardial-infarction',
  'atrio-oesophageal-fistula',
  'oesophageal-perforation',
  'pv-stenosis-severe',
];
const MINOR_BY_NATURE: readonly ComplicationCode[] = [
  'silent-emboli',
  'oesophageal-lesion',
  'arrhythmia-admission',
];
const BY_HARM = COMPLICATION_TYPES.map((type) => type.code).filter(
  (code) => !MAJOR_BY_NATURE.includes(code) && !MINOR_BY_NATURE.includes(code),
);

describe('the list of complications', () => {
  it('has one whole entry for each code', () => {
    expect(new Set(COMPLICATION_TYPES.map((type) => type.code)).size).toBe(COMPLICATION_TYPES.length);
    for (const type of COMPLICATION_TYPES) {
      expect(type.code).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(type.definition).toMatch(/\.$/);
      expect(type.usualWindowDays.to).toBeGreaterThan(type.usualWindowDays.from);
    }
  });

  it('marks every ICD-10 code as from memory', () => {
    for (const { icd10 } of COMPLICATION_TYPES) {
      if (icd10 === null) continue;
      expect(icd10.code).toMatch(/^[A-Z]\d{2}(\.\d)?$/);
      expect(icd10.fromMemory).toBe(true);
    }
  });

  it('knows the windows that trials use: fistula to day 90, tamponade to day 30', () => {
    expect([0, 90, 91].map((day) => isUsualOnset('atrio-oesophageal-fistula', day))).toEqual([
      true,
      true,
      false,
    ]);
    expect([30, 31].map((day) => isUsualOnset('tamponade', day))).toEqual([true, false]);
    expect([6, 7].map((day) => isUsualOnset('pv-stenosis', day))).toEqual([false, true]);
  });
});

describe('severity', () => {
  it.each(MAJOR_BY_NATURE)('%s is major by nature', (code) => {
    expect(severityOf(code, [])).toMatchObject({
      severity: 'major',
      reason: expect.stringContaining('by definition'),
    });
  });

  it.each(MINOR_BY_NATURE)('%s stays minor whatever follows', (code) => {
    expect(severityOf(code, ALL).severity).toBe('minor');
  });

  it.each(BY_HARM)('%s is minor without harm, and major with each harm that its rule names', (code) => {
    expect(severityOf(code, []).severity).toBe('minor');
    for (const harm of MAJOR_HARMS) expect(severityOf(code, [harm]).severity).toBe('major');
    for (const harm of OTHER_HARMS) {
      const expected = ALSO_MAJOR[code]?.includes(harm) ? 'major' : 'minor';
      expect(`${harm}: ${severityOf(code, [harm]).severity}`).toBe(`${harm}: ${expected}`);
    }
  });

  it('names the harm that decided, and only that', () => {
    expect(severityOf('pericarditis', ['transfusion', 'readmission']).reason).toBe('Major: readmission.');
    expect(severityOf('heart-block', ['intervention', 'death']).reason).toBe('Major: death, intervention.');
  });
});

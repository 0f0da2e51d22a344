import { describe, expect, it } from 'vitest';
import { type AcuteFacts, acuteEndpointOf } from '@/lib/registry/acute-endpoint';
import { lesionFlags } from '@/lib/registry/lesion-flags';
import { type LesionElement, shownSet } from '@/lib/registry/lesion-set';
import { agreementOf } from '@/lib/registry/strategy-agreement';
import { ABATED, element, line, ring, USUAL } from './lesion-sets';

const MET: AcuteFacts = {
  entranceBlock: 'all',
  exitBlock: 'all',
  waitingMinutes: 20,
  drugChallenge: 'adenosine',
  drugChallengeResult: 'no-conduction',
};
const shown = (elements: readonly LesionElement[], veins = USUAL) =>
  shownSet({ energy: 'radiofrequency', veins, elements });
const endpoint = (facts: Partial<AcuteFacts>, ...lines: LesionElement[]) =>
  acuteEndpointOf({ ...MET, ...facts }, shown(lines));

describe('the acute endpoint', () => {
  // Entrance block with or without exit block, and bidirectional block of lines: the endpoints of the trade; the table is ours.
  it.each<[string, Partial<AcuteFacts>, LesionElement[], string]>([
    ['all of it', {}, [], 'met'],
    ['entrance block alone, exit not tested', { exitBlock: 'not-tested' }, [], 'met'],
    ['entrance block alone, exit not recorded', { exitBlock: null }, [], 'met'],
    ['entrance block, but a vein still conducts out', { exitBlock: 'some' }, [], 'not-met'],
    ['a vein without entrance block', { entranceBlock: 'some' }, [], 'not-met'],
    ['no vein with entrance block', { entranceBlock: 'none' }, [], 'not-met'],
    ['entrance block not tested', { entranceBlock: 'not-tested' }, [], 'not-recorded'],
    ['entrance block not recorded', { entranceBlock: null }, [], 'not-recorded'],
    ['conduction under the drug, closed', { drugChallengeResult: 'closed' }, [], 'met'],
    ['conduction under the drug, left', { drugChallengeResult: 'left' }, [], 'not-met'],
    ['no drug', { drugChallenge: 'none', drugChallengeResult: null }, [], 'met'],
    ['drug, result not recorded', { drugChallengeResult: null }, [], 'met'],
    ['no waiting recorded: told, not judged', { waitingMinutes: null }, [], 'met'],
    ['a line blocked both ways', {}, [line('roof', { block: 'bidirectional' })], 'met'],
    ['a line blocked one way', {}, [line('roof', { block: 'one-way' })], 'not-met'],
    ['a line without block', {}, [line('roof', { block: 'none' })], 'not-met'],
    ['a line whose block nobody wrote down', {}, [line('roof')], 'not-recorded'],
    ['a line that was not done', {}, [line('roof', { state: 'not-done' })], 'met'],
    [
      'one line open outweighs what is not recorded',
      { entranceBlock: null },
      [line('roof', { block: 'none' })],
      'not-met',
    ],
  ])('%s', (_rule, facts, lines, verdict) => {
    expect(endpoint(facts, ...lines).verdict).toBe(verdict);
  });

  it('gives its reasons in plain words', () => {
    const lines = [
      line('roof', { block: 'bidirectional' }),
      line('floor', { block: 'none' }),
      line('cavotricuspid'),
    ];
    expect(endpoint({}, ...lines).reasons).toEqual([
      'Entrance block: in every vein.',
      'Exit block: in every vein.',
      'After 20 min of waiting.',
      'Adenosine: no conduction.',
      'Block in both directions: roof line.',
      'No block in both directions: floor line.',
      'Block is not recorded: cavotricuspid isthmus line.',
    ]);
    expect(
      endpoint({ waitingMinutes: 0, drugChallenge: null, drugChallengeResult: null }).reasons.slice(2),
    ).toEqual(['No waiting.', 'Whether a drug was given is not recorded.']);
  });
});

describe('label and lesions', () => {
  it.each([
    ['wide-encircling', 'wide-encircling', null, 'agree', /wrote the same/],
    [
      'wide-with-lines',
      'wide-encircling',
      null,
      'disagree',
      /wrote wide encircling; the lesions show wide with lines\.$/,
    ],
    [
      'wide-with-lines',
      'wide-encircling',
      'wide-with-lines',
      'settled',
      /Settled by a person as wide with lines; both are kept/,
    ],
    ['not-derivable', 'ostial', null, 'not-derivable', /the lesions do not say/],
    ['ostial', null, null, 'no-label', /no label/],
  ])('%s, labelled %s, settled %s: %s', (derived, labelled, settled, kind, words) => {
    expect(agreementOf({ derived, labelled, settled })).toEqual({
      kind,
      words: expect.stringMatching(words),
    });
  });
});

describe('flags', () => {
  const flags = (elements: readonly LesionElement[], energy = 'radiofrequency', veins = USUAL) =>
    lesionFlags({ energy }, shown(elements, veins));

  it('tell of an application longer than 60 s, by radiofrequency only', () => {
    const long = [element('left-pair', 'superior', { ...ABATED, longestSeconds: 74 })];
    expect(flags(long)).toEqual(['Left pair, superior: one application of 74 s (longer than 60 s).']);
    expect(flags(long, 'cryo-focal')).toEqual([]);
    expect(flags([element('left-pair', 'superior', { ...ABATED, longestSeconds: 60 })])).toEqual([]);
  });

  it('tell of vagal reflexes, of veins that the anatomy lacks, and of veins ringed twice', () => {
    expect(flags([element('left-pair', 'superior', { vagalResponse: true })])).toEqual([
      'Vagal reflex at left pair, superior.',
    ]);
    expect(flags(ring('rmpv'))).toEqual([
      expect.stringMatching(/^Right middle vein: recorded, but this anatomy/),
    ]);
    expect(flags([...ring('left-pair'), ...ring('lipv')])).toEqual([
      'The left veins are ringed as a pair and by themselves (left pair and left inferior vein).',
    ]);
    expect(flags([...ring('left-pair'), ...ring('right-pair')])).toEqual([]);
  });
});

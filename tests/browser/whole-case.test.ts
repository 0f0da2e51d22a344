import type { Page } from '@playwright/test';
import { BASELINE_CONDITIONS } from '@/lib/registry/forms/baseline-entries';
import { daysAgo } from './entering';
import { Finger } from './finger';
import { expect, test } from './lab-test';
import { Typist } from './typist';

/** Amplitudes before and after of a left and a right ring, in millivolt, as they are read off. */
const BEFORE = [
  ...['1.2', '.9', '.92', '1.1', '1.6', '1.3', '.8', '1.45'],
  ...['2', '1.1', '.7', '.85', '1.9', '1.25', '1.5', '1.05'],
];
const AFTER = [
  ...['.08', '.07', '.05', '.05', '.09', '.06', '.04', '.1'],
  ...['.15', '.04', '.06', '.03', '.08', '.09', '.07', '.05'],
];

const PROCEDURE_CHOICES = {
  indication: 'Symptoms, a drug failed',
  energy: 'Radiofrequency',
  deviceType: 'Point by point',
  intendedStrategy: 'Wide with lines',
  imaging: 'Map',
  anaesthesia: 'Deep sedation',
  anticoagulation: 'Uninterrupted',
  thrombusExclusion: 'Transoesophageal echo',
  rhythmAtStart: 'AF',
  rhythmAtEnd: 'Sinus rhythm, no atrial arrhythmia',
};
const PROCEDURE_AMOUNTS = {
  deviceLot: 'A417',
  heparinUnits: '14000',
  lowestActS: '310',
  procedureMinutes: '145',
  leftAtrialMinutes: '110',
  fluoroscopyMinutes: '9.5',
  dapGyCm2: '12.4',
  airKermaMgy: '88',
};
const BASELINE_CHOICES = {
  'baseline.episodeEnding': 'By a shock',
  'baseline.legalBasis': 'Consent',
};
const BASELINE_AMOUNTS = {
  'baseline.longestEpisodeDays': '21',
  'baseline.afSinceYear': '2023',
  'baseline.priorCardioversions': '1',
  'baseline.failedAntiarrhythmics': '1',
  'baseline.laDiameterMm': '44',
  'baseline.laVolumeIndexMlM2': '39',
  'baseline.lvefPct': '58',
  'baseline.bmiKgM2': '27.4',
  'baseline.egfrMlMin173m2': '72',
};

test('a whole case, from the patient to the signature, by keyboard alone', async ({ page, signInAs }) => {
  test.setTimeout(240_000);
  await signInAs(page, 'physician');
  await page.goto('/cases');
  const person = new Typist(page);
  await person.goToWords('Register a patient');
  await person.press('Enter');
  await page.waitForURL('**/patients/new');

  await person.enter('birthYear', '1958');
  await person.choose('sex', 1);
  await person.goToWords('Register the patient');
  await person.press('Enter');
  await page.waitForURL(/\/patients\/[0-9a-f-]{36}\/procedures\/new/);

  await person.enter('performedOn', daysAgo(3));
  await person.enter('ageYears', '67');
  await person.enter('operatorId', 'O');
  await person.enter('indication', 'S');
  await person.enter('energy', 'R');
  await person.enter('deviceType', 'P');
  await person.enter('intendedStrategy', 'Wide w');
  await person.choose('steering', 1);
  await person.enter('imaging', 'M');
  await person.enter('anaesthesia', 'D');
  await person.enter('deviceLot', 'A417');
  await person.enter('anticoagulation', 'U');
  await person.enter('thrombusExclusion', 'T');
  await person.enter('heparinUnits', '14000');
  await person.enter('lowestActS', '310');
  await person.enter('rhythmAtStart', 'AF');
  await person.enter('rhythmAtEnd', 'S');
  await person.enter('procedureMinutes', '145');
  await person.enter('leftAtrialMinutes', '110');
  await person.enter('fluoroscopyMinutes', '9.5');
  await person.enter('dapGyCm2', '12.4');
  await person.enter('airKermaMgy', '88');
  await person.enter('dischargedOn', daysAgo(2));

  await person.enter('baseline.longestEpisodeDays', '21');
  await person.enter('baseline.episodeEnding', 'By a s');
  await person.enter('baseline.afSinceYear', '2023');
  await person.enter('baseline.symptomScore', '2');
  await person.enter('baseline.priorCardioversions', '1');
  await person.enter('baseline.failedAntiarrhythmics', '1');
  await person.goToOption('baseline.drugs', 'Amiodarone');
  await person.press('Space');
  await person.goToOption('baseline.drugs', 'Apixaban');
  await person.press('Space');
  await person.enter('baseline.legalBasis', 'C');
  await person.enter('baseline.laDiameterMm', '44');
  await person.enter('baseline.laVolumeIndexMlM2', '39');
  await person.enter('baseline.lvefPct', '58');
  await person.enter('baseline.bmiKgM2', '27.4');
  await person.enter('baseline.egfrMlMin173m2', '72');
  for (const condition of BASELINE_CONDITIONS) {
    // Of what stands chosen, "not recorded", yes is the next to the right and no the next to the left.
    await person.choose(`baseline.${condition}`, condition === 'hypertension' ? 1 : -1);
  }
  await person.goToWords('Record the procedure');
  await person.press('Enter');
  await page.waitForURL(/\/cases\/[0-9a-f-]{36}$/);
  const casePath = new URL(page.url()).pathname;
  const form = { keys: person.keys, seconds: person.seconds };

  await person.goToWords('Lesions');
  await person.press('Enter');
  await page.waitForURL(`**${casePath}/lesions`);
  await person.goToWords('Record the lesion set');
  await person.press('Enter');
  await page.waitForURL(`**${casePath}/lesions/edit`);
  await typeSixteenSegments(person, page);
  await person.goToWords('Save the lesion set');
  await person.press('Enter');
  await page.waitForURL(`**${casePath}/lesions`);

  await person.goToWords('Mark as entered');
  await person.press('Enter');
  await expect(page.getByRole('button', { name: 'Sign the case' })).toBeVisible();
  await person.goToWords('Sign the case');
  await person.press('Enter');
  await expect(page.getByText(/^Signed/)).toBeVisible();
  console.log(
    `A whole case by keyboard: ${person.keys} key presses, ${person.fields} fields, about ${person.seconds} s` +
      ` (patient, baseline and procedure: ${form.keys} presses, about ${form.seconds} s).`,
  );

  await expectStored(page, casePath);
});

/** Two rings of eight and a roof line: whole rings as planned, then the amplitudes, down one column and up the other. */
async function typeSixteenSegments(person: Typist, page: Page): Promise<void> {
  const cell = (name: string) => page.getByLabel(name, { exact: true });
  await expect(page.getByRole('button', { name: 'Save the lesion set' })).toBeEnabled();
  await person.enter('measuredInRhythm', 'S');
  await person.goToWords('On to the table');
  await person.press('Enter');
  await expect(cell('Left pair, whole ring, state')).toBeFocused();
  const ring = async (distance: string, forward: boolean) => {
    const [on, back] = ['ArrowRight', 'ArrowLeft'];
    const columns: [string, number][] = [
      ['d', 1],
      [distance, 3],
      ['3', 1],
      ['60', 1],
      ['25', 1],
      ['y', 1],
      ['y', 0],
    ];
    const typed: [string, number][] = forward
      ? columns
      : columns
          .map(([text], i): [string, number] => [text, i === 0 ? 0 : (columns[i - 1]?.[1] ?? 0)])
          .reverse();
    for (const [text, steps] of typed) {
      await person.type(text);
      await person.press(forward ? on : back, steps);
    }
  };
  await ring('12', true);
  await person.press('PageDown');
  await ring('14', false);
  await person.press('PageUp');
  await person.press('ArrowRight', 2);
  await person.press('Enter');
  for (const [index, amplitude] of BEFORE.entries()) {
    await person.type(amplitude);
    if (index < 15) await person.press('Enter', index === 7 ? 2 : 1);
  }
  await person.press('ArrowRight');
  for (const [index, amplitude] of [...AFTER].reverse().entries()) {
    await person.type(amplitude);
    if (index < 15) await person.press('ArrowUp', index === 7 ? 2 : 1);
  }
  await person.press('ArrowLeft', 2);
  await person.press('PageDown', 2);
  await person.type('d');
  await person.press('ArrowRight', 9);
  await person.type('b');
  await person.press('ArrowRight');
  await person.type('p');
  await person.press('Escape');
  await person.enter('entranceBlock', 'In e');
  await person.enter('exitBlock', 'In e');
  await person.enter('waitingMinutes', '20');
  await person.enter('drugChallenge', 'A');
  await person.enter('drugChallengeResult', 'N');
}

test.describe('by finger on a tablet', () => {
  test.use({ viewport: { width: 820, height: 1180 }, hasTouch: true, actionTimeout: 10_000 });

  test('a whole case, from the patient to the signature', async ({ page, signInAs }) => {
    test.setTimeout(300_000);
    await signInAs(page, 'physician');
    await page.goto('/cases');
    const person = new Finger(page);
    await person.tap(page.getByRole('link', { name: 'Register a patient' }));
    await page.waitForURL('**/patients/new');
    await person.typeAll({ birthYear: '1958' });
    await person.choose('sex', 'Female');
    await person.press('Register the patient');
    await page.waitForURL(/\/patients\/[0-9a-f-]{36}\/procedures\/new/);

    await person.typeAll({ performedOn: daysAgo(3), ageYears: '67' });
    const operator = await page.getByLabel('Operator').locator('option').nth(1).textContent();
    await person.takeAll({ operatorId: operator ?? '', ...PROCEDURE_CHOICES });
    await person.choose('steering', 'Manual');
    await person.typeAll(PROCEDURE_AMOUNTS);
    await person.typeAll({ dischargedOn: daysAgo(2) });
    await person.takeAll(BASELINE_CHOICES);
    await person.typeAll(BASELINE_AMOUNTS);
    await person.choose('baseline.drugs', 'Amiodarone');
    await person.choose('baseline.drugs', 'Apixaban');
    for (const condition of BASELINE_CONDITIONS)
      await person.choose(`baseline.${condition}`, condition === 'hypertension' ? 'yes' : 'no');
    await person.press('Record the procedure');
    await page.waitForURL(/\/cases\/[0-9a-f-]{36}$/);
    const casePath = new URL(page.url()).pathname;
    const form = { taps: person.taps, seconds: person.seconds };

    await person.tap(page.getByRole('link', { name: 'Lesions', exact: true }));
    await person.tap(page.getByRole('link', { name: 'Record the lesion set' }));
    await page.waitForURL(`**${casePath}/lesions/edit`);
    await tapSixteenSegments(person, page);
    await person.press('Save the lesion set');
    await page.waitForURL(`**${casePath}/lesions`);
    await person.press('Mark as entered');
    await person.press('Sign the case');
    await expect(page.getByText(/^Signed/)).toBeVisible();
    console.log(
      `A whole case by finger: ${person.taps} taps and ${person.keys} keys, about ${person.seconds} s` +
        ` (patient, baseline and procedure: ${form.taps} taps, about ${form.seconds} s).`,
    );
    expect(person.hasRoom, `the smallest target was ${person.least} px`).toBe(true);
    await expectStored(page, casePath);
  });
});

/** One segment of each ring in full, the rest of its ring like it, then the amplitudes of each. */
async function tapSixteenSegments(person: Finger, page: Page): Promise<void> {
  await expect(page.getByRole('button', { name: 'Save the lesion set' })).toBeEnabled();
  await person.takeAll({ measuredInRhythm: 'Sinus rhythm' });
  for (const [ring, from, distance] of [
    ['Left pair', 0, '12'],
    ['Right pair', 8, '14'],
  ] as const) {
    await person.tap(page.getByRole('button', { name: new RegExp(`^${ring}, superior:`) }));
    const first = page.getByRole('region', { name: `${ring}, superior` });
    await person.tap(first.getByRole('button', { name: 'state: Done' }));
    await person.type(first.getByLabel('From the ostium, mm'), distance);
    await person.type(first.getByLabel('Applications'), '3');
    await person.type(first.getByLabel('Seconds in all'), '60');
    await person.type(first.getByLabel('Longest application, s'), '25');
    await person.tap(first.getByRole('button', { name: 'first pass: Yes' }));
    await person.tap(first.getByRole('button', { name: 'final check: Yes' }));
    await person.tap(first.getByRole('button', { name: 'Fill the rest of the ring like this' }));
    for (let i = from; i < from + 8; i += 1) {
      const panel = page.getByRole('region', { name: new RegExp(`^${ring}, `) });
      await person.type(panel.getByLabel('Before, mV'), BEFORE[i] ?? '');
      await person.type(panel.getByLabel('After, mV'), AFTER[i] ?? '');
      if (i < from + 7) await person.tap(panel.getByRole('button', { name: 'Next segment' }));
    }
  }
  await person.tap(page.getByRole('button', { name: /^Roof line:/ }));
  const roof = page.getByRole('region', { name: 'Roof line' });
  await person.tap(roof.getByRole('button', { name: 'state: Done' }));
  await person.tap(roof.getByRole('button', { name: 'block: Both ways' }));
  await person.takeAll({ entranceBlock: 'In every vein', exitBlock: 'In every vein' });
  await person.typeAll({ waitingMinutes: '20' });
  await person.takeAll({ drugChallenge: 'Adenosine', drugChallengeResult: 'No conduction' });
}

async function expectStored(page: Page, casePath: string): Promise<void> {
  await page.goto(`${casePath}/lesions`);
  for (const words of [
    'Left pair: all 8 segments closed, 8 abated.',
    'Right pair: all 8 segments closed, 8 abated.',
    'Block in both directions: roof line.',
  ])
    await expect(page.getByText(words)).toBeVisible();
  await page.goto(casePath);
  for (const words of ['58 %', '44 mm', 'Persistent', 'Amiodarone'])
    await expect(page.getByRole('main').getByText(words).first()).toBeVisible();
  await page.goto(`${casePath}/procedure`);
  for (const words of ['145 min', 'Radiofrequency', 'A417'])
    await expect(page.getByRole('main').getByText(words).first()).toBeVisible();
}

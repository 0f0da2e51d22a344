import { amount, flag, type Score, type ScoreItem, sexItem, when } from './score';

/** Heart failure counts whatever the ejection fraction; so does an ejection fraction of 40 % or less without symptoms. */
const failure: ScoreItem = {
  label: 'Heart failure, or LVEF 40 % or less',
  fields: ['heartFailure', 'lvefPct'],
  most: 1,
  points: ({ heartFailure, lvefPct }) => {
    if (heartFailure === true || (lvefPct !== null && lvefPct <= 40)) return 1;
    return heartFailure === null ? null : 0;
  },
};

const VA_ITEMS = [
  failure,
  flag('Hypertension', 'hypertension'),
  amount('Age 65 to 74: 1, from 75: 2', 'ageYears', 2, (years) => when(years >= 65) + when(years >= 75)),
  flag('Diabetes', 'diabetes'),
  flag('Earlier stroke or TIA', 'strokeHistory', 2),
  flag('Vascular disease', 'vascularDisease'),
] as const;

export const CHA2DS2_VA: Score = {
  code: 'cha2ds2-va',
  label: 'CHA₂DS₂-VA',
  predicts: 'Stroke in AF',
  source: 'ESC 2024; 0 to 8',
  fromMemory: '',
  knownFrom: 'baseline',
  items: VA_ITEMS,
};

export const CHA2DS2_VASC: Score = {
  code: 'cha2ds2-vasc',
  label: 'CHA₂DS₂-VASc',
  predicts: 'Stroke in AF',
  source: 'Lip 2010; 0 to 9',
  fromMemory: 'points of the items',
  knownFrom: 'baseline',
  items: [...VA_ITEMS, sexItem('female')],
};

export const HAS_BLED: Score = {
  code: 'has-bled',
  label: 'HAS-BLED',
  predicts: 'Major bleeding on an anticoagulant',
  source: 'Pisters 2010; 0 to 9',
  fromMemory: 'points of the items',
  knownFrom: 'baseline',
  items: [
    flag('Systolic pressure above 160', 'uncontrolledHypertension'),
    flag('Severe kidney disease', 'renalDisease'),
    flag('Severe liver disease', 'liverDisease'),
    flag('Earlier stroke', 'strokeHistory'),
    flag('Earlier major bleeding', 'bleedingHistory'),
    flag('Labile INR', 'labileInr'),
    amount('Age above 65', 'ageYears', 1, (years) => when(years > 65)),
    flag('Antiplatelet drug or NSAID', 'antiplateletOrNsaid'),
    flag('Alcohol, 8 drinks a week or more', 'alcoholExcess'),
  ],
};

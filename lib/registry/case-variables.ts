/** What a field of the case record holds, for forms, tables, scores, the data dictionary and exports. */
export interface Variable {
  readonly label: string;
  readonly definition: string;
  /** Where definition and limits come from. */
  readonly source: string;
  /** UCUM; '' for what has none. */
  readonly unit: string;
  /** Codes are from memory and are to be confirmed before they are exported as such. */
  readonly loinc?: string;
  readonly icd10?: string;
}

const CONSENSUS = '2017 consensus statement, Table 1';
const PRACTICE = 'common practice, no source';
const SCORE = (name: string) => `item of ${name} (from memory)`;

const variable = (
  label: string,
  definition: string,
  source: string,
  more: { unit?: string; loinc?: string; icd10?: string } = {},
): Variable => ({ label, definition, source, unit: '', ...more });

const HAS_BLED = SCORE('HAS-BLED');
const VASC = SCORE('CHA2DS2-VASc');

/** What is known before the procedure, one entry each. */
export const BASELINE_VARIABLES = {
  afType: variable(
    'AF type',
    'By the longest continuous episode and how it ended; permanent, chronic and lone do not exist here.',
    CONSENSUS,
    { icd10: 'I48' },
  ),
  longestEpisodeDays: variable('Longest episode', 'The longest continuous episode known.', CONSENSUS, {
    unit: 'd',
  }),
  episodeEnding: variable(
    'How the longest episode ended',
    'By itself, by a drug, by a shock, or still running at the procedure.',
    CONSENSUS,
  ),
  afSinceYear: variable('AF since', 'Year of the first documented episode.', PRACTICE),
  symptomScore: variable(
    'Symptom score',
    'Symptoms in five steps, from none to disabling.',
    'modified EHRA score, Wynn 2014 (from memory)',
  ),
  legalBasis: variable('Legal basis', 'What allows the lab to keep this record.', PRACTICE),
  laDiameterMm: variable(
    'LA diameter',
    'Antero-posterior diameter of the left atrium, parasternal long axis. Never computed from the volume.',
    PRACTICE,
    { unit: 'mm' },
  ),
  laVolumeIndexMlM2: variable(
    'LA volume index',
    'Volume of the left atrium per body surface. Never computed from the diameter.',
    'ASE/EACVI 2015 (from memory)',
    { unit: 'mL/m2' },
  ),
  laAreaIndexCm2M2: variable(
    'LA area index',
    'Area of the left atrium per body surface. Never computed from another size.',
    SCORE('ALARMEc'),
    { unit: 'cm2/m2' },
  ),
  lvefPct: variable('LVEF', 'Left ventricular ejection fraction.', PRACTICE, { unit: '%', loinc: '10230-1' }),
  bmiKgM2: variable('BMI', 'Body mass index.', PRACTICE, { unit: 'kg/m2', loinc: '39156-5' }),
  egfrMlMin173m2: variable('eGFR', 'Estimated glomerular filtration rate.', PRACTICE, {
    unit: 'mL/min/{1.73_m2}',
    loinc: '98979-8',
  }),
  structuralHeartDisease: variable(
    'Structural heart disease',
    'Coronary, valvular, congenital or muscle disease of the heart.',
    PRACTICE,
  ),
  cardiomyopathy: variable('Cardiomyopathy', 'Dilated, hypertrophic or other.', SCORE('ALARMEc'), {
    icd10: 'I42.9',
  }),
  heartFailure: variable('Heart failure', 'Signs or symptoms, whatever the ejection fraction.', VASC, {
    icd10: 'I50.9',
  }),
  hypertension: variable('Hypertension', 'Above 140/90 mmHg more than once, or treated.', VASC, {
    icd10: 'I10',
  }),
  uncontrolledHypertension: variable(
    'Systolic pressure above 160',
    'Systolic pressure above 160 mmHg despite treatment.',
    HAS_BLED,
  ),
  diabetes: variable('Diabetes', 'Known or treated diabetes.', VASC, { icd10: 'E14.9' }),
  strokeHistory: variable('Earlier stroke or TIA', 'Stroke, TIA or systemic embolism before.', VASC, {
    icd10: 'I64',
  }),
  vascularDisease: variable(
    'Vascular disease',
    'Earlier infarction, peripheral arterial disease or aortic plaque.',
    VASC,
    { icd10: 'I70.9' },
  ),
  coronaryDisease: variable('Coronary disease', 'Coronary artery disease.', SCORE('CAAP-AF'), {
    icd10: 'I25.1',
  }),
  copd: variable('COPD', 'Chronic obstructive lung disease.', SCORE('HATCH'), { icd10: 'J44.9' }),
  sleepApnoea: variable('Sleep apnoea', 'Diagnosed sleep apnoea.', PRACTICE, { icd10: 'G47.3' }),
  bundleBranchBlock: variable('Bundle branch block', 'Left or right, on the ECG.', SCORE('MB-LATER'), {
    icd10: 'I45.4',
  }),
  metabolicSyndrome: variable('Metabolic syndrome', 'By any published definition.', SCORE('ALARMEc')),
  renalDisease: variable(
    'Severe kidney disease',
    'Dialysis, transplant, or creatinine above 200 umol/L.',
    HAS_BLED,
    { icd10: 'N18.9' },
  ),
  liverDisease: variable('Severe liver disease', 'Cirrhosis, or markedly raised liver tests.', HAS_BLED, {
    icd10: 'K76.9',
  }),
  bleedingHistory: variable('Earlier major bleeding', 'Major bleeding or a tendency to it.', HAS_BLED),
  labileInr: variable(
    'Labile INR',
    'In range less than 60 % of the time, on a vitamin K antagonist.',
    HAS_BLED,
  ),
  antiplateletOrNsaid: variable('Antiplatelet drug or NSAID', 'Taken at the procedure.', HAS_BLED),
  alcoholExcess: variable('Alcohol, 8 drinks a week or more', 'Eight drinks a week or more.', HAS_BLED),
  smoker: variable('Smoker', 'Smokes now.', SCORE('BASE-AF2'), { loinc: '72166-2' }),
  priorCardioversions: variable(
    'Earlier cardioversions',
    'Number, electrical and pharmacological.',
    PRACTICE,
  ),
  failedAntiarrhythmics: variable(
    'Failed antiarrhythmic drugs',
    'Number of class I or III drugs that failed.',
    SCORE('CAAP-AF'),
  ),
  drugs: variable('Drugs at the procedure', 'By Vaughan Williams class, and anticoagulants.', PRACTICE),
  qualityInstrument: variable(
    'Quality-of-life questionnaire',
    'Which questionnaire the value belongs to; its items are licensed and not kept.',
    PRACTICE,
  ),
  qualityScore: variable('Quality-of-life value', 'The total as the questionnaire defines it.', PRACTICE),
} as const satisfies Record<string, Variable>;

/** What was done, one entry each. */
export const PROCEDURE_VARIABLES = {
  performedOn: variable('Procedure day', 'Day 0 of every time in the registry.', PRACTICE),
  ageYears: variable(
    'Age at the procedure',
    'Completed years, entered by hand: a birth year cannot decide 65 or 75.',
    PRACTICE,
    { unit: 'a' },
  ),
  operatorId: variable('Operator', 'By code.', PRACTICE),
  indication: variable('Indication', 'Why the ablation is done.', PRACTICE),
  energy: variable('Energy', 'What the lesions were made with.', PRACTICE),
  deviceType: variable('Device', 'Shape of the ablation device; decides the derived strategy.', PRACTICE),
  deviceLot: variable('Device lot', 'Lot or serial number as printed, to find cases in a recall.', PRACTICE),
  steering: variable('Steering', 'Catheter moved by hand or by a remote system.', PRACTICE),
  imaging: variable('Imaging', 'What guided the catheter.', PRACTICE),
  anaesthesia: variable('Anaesthesia', 'Depth of sedation or anaesthesia.', PRACTICE),
  thrombusExclusion: variable(
    'Thrombus excluded by',
    'How thrombus in the left atrium was excluded.',
    PRACTICE,
  ),
  anticoagulation: variable(
    'Anticoagulation around the procedure',
    'Whether the oral anticoagulant was taken through the procedure.',
    PRACTICE,
  ),
  intendedStrategy: variable('Intended strategy', 'As the operator calls it.', PRACTICE),
  abortedReason: variable('Aborted because', 'Empty unless the procedure was broken off.', PRACTICE),
  rhythmAtStart: variable('Rhythm at the start', 'On the table, before any lesion.', PRACTICE),
  rhythmAtEnd: variable('Rhythm at the end', 'When the catheters were withdrawn.', PRACTICE),
  procedureMinutes: variable('Procedure time', 'From puncture to removal of the sheaths.', PRACTICE, {
    unit: 'min',
  }),
  leftAtrialMinutes: variable(
    'Left atrial time',
    'From transseptal puncture to withdrawal from the left atrium.',
    PRACTICE,
    { unit: 'min' },
  ),
  fluoroscopyMinutes: variable('Fluoroscopy time', 'As the machine counts it.', PRACTICE, { unit: 'min' }),
  dapGyCm2: variable('Dose-area product', 'Also called kerma-area product.', PRACTICE, { unit: 'Gy.cm2' }),
  airKermaMgy: variable('Air kerma', 'At the reference point.', PRACTICE, { unit: 'mGy' }),
  heparinUnits: variable('Heparin', 'Total given during the procedure.', PRACTICE, { unit: '[iU]' }),
  lowestActS: variable('Lowest ACT', 'Lowest activated clotting time in the left atrium.', PRACTICE, {
    unit: 's',
    loinc: '3184-9',
  }),
  dischargedOn: variable('Discharged on', 'Day on which the patient left the hospital.', PRACTICE),
} as const satisfies Record<string, Variable>;

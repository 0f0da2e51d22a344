import type { Term } from './vocabulary';

/** Vaughan Williams class, or anticoagulant. */
type DrugClass = 'Ia' | 'Ic' | 'II' | 'III' | 'IV' | 'anticoagulant';

export interface Drug extends Term {
  readonly drugClass: DrugClass;
}

const antiarrhythmic = (code: string, drugClass: DrugClass): Drug => ({
  code,
  label: code.charAt(0).toUpperCase() + code.slice(1).replaceAll('-', ' '),
  definition: drugClass === 'anticoagulant' ? 'Oral anticoagulant.' : `Vaughan Williams class ${drugClass}.`,
  drugClass,
});

/** Drugs the registry knows, by class (classes from memory, general pharmacology). Sotalol is III, not II. */
export const DRUGS: readonly Drug[] = [
  ...['quinidine', 'procainamide', 'disopyramide', 'cibenzoline'].map((code) => antiarrhythmic(code, 'Ia')),
  ...['flecainide', 'propafenone'].map((code) => antiarrhythmic(code, 'Ic')),
  ...['beta-blocker'].map((code) => antiarrhythmic(code, 'II')),
  ...['amiodarone', 'dronedarone', 'sotalol', 'dofetilide'].map((code) => antiarrhythmic(code, 'III')),
  ...['verapamil', 'diltiazem'].map((code) => antiarrhythmic(code, 'IV')),
  ...['warfarin', 'dabigatran', 'rivaroxaban', 'apixaban', 'edoxaban'].map((code) =>
    antiarrhythmic(code, 'anticoagulant'),
  ),
];

/** True for class I and III, the drugs that an "off drugs" endpoint forbids; unknown codes are not. */
export function isClassOneOrThree(drugCode: string): boolean {
  const drugClass = DRUGS.find((drug) => drug.code === drugCode)?.drugClass;
  return drugClass === 'Ia' || drugClass === 'Ic' || drugClass === 'III';
}

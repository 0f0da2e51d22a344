/** UCUM codes as people read them; a code without an entry reads as it is. */
const READ: Readonly<Record<string, string>> = {
  a: 'years',
  'mL/min/{1.73_m2}': 'mL/min/1.73 m²',
  'mL/m2': 'mL/m²',
  'kg/m2': 'kg/m²',
  'cm2/m2': 'cm²/m²',
  'Gy.cm2': 'Gy·cm²',
  '[iU]': 'IU',
  d: 'days',
};

/** A unit in words: 'mL/m2' reads mL/m². */
export function readUnit(ucum: string): string {
  return READ[ucum] ?? ucum;
}

import { type Finding, warning } from '../findings';
import type { NumberField } from './entries';

/** A warning for each number outside its usual range: it may be kept, but should be looked at again. */
export function warningsOfNumbers(
  values: Readonly<Record<string, unknown>>,
  fields: Readonly<Record<string, NumberField>>,
  prefix = '',
): Finding[] {
  return Object.entries(fields).flatMap(([name, field]) => {
    const value = values[name];
    if (typeof value !== 'number') return [];
    const { label, unit, usualMin, usualMax } = field;
    const amount = unit === '' ? `${value}` : `${value} ${unit}`;
    if (usualMin !== undefined && value < usualMin) {
      return [
        warning(
          `${prefix}${name}`,
          `${label}: ${amount} is unusually low (usual from ${usualMin}). Check the value and its unit, or keep it.`,
        ),
      ];
    }
    if (usualMax !== undefined && value > usualMax) {
      return [
        warning(
          `${prefix}${name}`,
          `${label}: ${amount} is unusually high (usual up to ${usualMax}). Check the value and its unit, or keep it.`,
        ),
      ];
    }
    return [];
  });
}

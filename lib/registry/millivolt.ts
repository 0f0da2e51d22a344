/** Largest amplitude that is kept, in microvolt; the limit of the database. */
export const MOST_UV = 20_000;

export type ReadAmplitude = { readonly uv: number } | { readonly problem: string };

/**
 * An amplitude typed in millivolt as whole microvolt, read from its digits: no floating point on the way, so that 0.08 is 80
 * and 0.07 x 1000 never becomes 70.00000000000001. '.08' is 0.08. Finer than a microvolt is refused, not rounded.
 */
export function readMillivolt(text: string): ReadAmplitude {
  const comma = /^(\d*),(\d+)$/.exec(text);
  if (comma)
    return { problem: `“${text}” has a comma. Write a point instead: ${comma[1] || '0'}.${comma[2]}.` };
  const match = /^(\d*)(?:\.(\d+))?$/.exec(text);
  const [whole = '', decimals = ''] = match ? [match[1] ?? '', match[2] ?? ''] : [];
  if (!match || whole.length + decimals.length === 0) {
    return { problem: 'is not a number. Write millivolt in figures, such as 0.08.' };
  }
  if (decimals.replace(/0+$/, '').length > 3) {
    return { problem: `“${text}” is finer than a microvolt. Write at most 3 decimals.` };
  }
  const uv = Number(whole.slice(-9) || '0') * 1000 + Number(decimals.slice(0, 3).padEnd(3, '0'));
  if (whole.replace(/^0+/, '').length > 5 || uv > MOST_UV) {
    const meant =
      decimals === '' && Number(whole) <= MOST_UV
        ? ` If microvolt are meant, write ${millivoltText(Number(whole))}.`
        : '';
    return { problem: `${text} mV is not possible. It must lie from 0 to ${MOST_UV / 1000} mV.${meant}` };
  }
  return { uv };
}

/** Microvolt as the millivolt that a person would type: 80 is '0.08', 1400 is '1.4', 0 is '0'. */
export function millivoltText(uv: number): string {
  const decimals = String(uv % 1000)
    .padStart(3, '0')
    .replace(/0+$/, '');
  return decimals === '' ? String(Math.floor(uv / 1000)) : `${Math.floor(uv / 1000)}.${decimals}`;
}

/** Microvolt as millivolt for a column of figures: always two decimals, a third where it says something. */
export function millivoltFigure(uv: number): string {
  const decimals = String(uv % 1000)
    .padStart(3, '0')
    .replace(/0$/, '');
  return `${Math.floor(uv / 1000)}.${decimals}`;
}

/** How much was lost, to tenths of a percent and never rounded up: 90.0 % is not more than 90 %. Null where it cannot be said. */
export function reductionTenths(beforeUv: number | null, afterUv: number | null): number | null {
  if (beforeUv === null || afterUv === null || beforeUv === 0) return null;
  return Math.floor((1000 * (beforeUv - afterUv)) / beforeUv);
}

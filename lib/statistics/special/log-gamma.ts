import { StatisticsError } from '../errors';

const HALF_LOG_TWO_PI = 0.9189385332046728;
const ONE_MINUS_EULER = 0.42278433509846713;
/** zeta(k) - 1 for k = 2, 3, ... (Abramowitz & Stegun table 23.3). */
const ZETA_MINUS_ONE = [
  0.6449340668482264, 0.2020569031595943, 0.08232323371113819, 0.03692775514336993, 0.01734306198444914,
  0.008349277381922827, 0.00407735619794434, 0.0020083928260822143, 0.0009945751278180853,
  0.0004941886041194645, 0.0002460865533080483, 0.00012271334757848915, 0.00006124813505870483,
  0.00003058823630702049, 0.00001528225940865187, 0.000007637197637899763, 0.00000381729326499984,
  0.000001908212716553939, 9.539620338727962e-7, 4.769329867878064e-7, 2.38450502727733e-7,
  1.1921992596531106e-7, 5.960818905125948e-8, 2.980350351465228e-8, 1.490155482836504e-8,
  7.450711789835428e-9, 3.725334024788457e-9,
];

/**
 * log of the gamma function at x > 0, relative error below 1e-12 also near its zeros at 1 and 2.
 * Formula: Stirling's form with the correction of stirlingCorrection; between 1/2 and 5/2 the series in
 * zeta(k) - 1 (Abramowitz & Stegun 6.1.33). @throws StatisticsError outOfRange unless x is finite and above 0.
 */
export function logGamma(x: number): number {
  if (!(x > 0 && x < Number.POSITIVE_INFINITY)) {
    throw new StatisticsError(
      'outOfRange',
      'x',
      undefined,
      `x is ${x}; log gamma needs a finite number above 0.`,
    );
  }
  if (x < 0.5) return seriesAboutOne(x) - Math.log1p(x) - Math.log(x);
  if (x <= 1.5) return seriesAboutOne(x - 1) - Math.log1p(x - 1);
  if (x <= 2.5) return seriesAboutOne(x - 2);
  return (x - 0.5) * Math.log(x) - x + HALF_LOG_TWO_PI + stirlingCorrection(x);
}

/** log gamma(2 + e) for |e| <= 1/2: (1 - Euler) e + sum (-1)^k (zeta(k) - 1) e^k / k. */
function seriesAboutOne(e: number): number {
  let power = -e;
  let sum = 0;
  for (let i = 0; i < ZETA_MINUS_ONE.length; i += 1) {
    power *= -e;
    sum += (ZETA_MINUS_ONE[i] * power) / (i + 2);
  }
  return e * ONE_MINUS_EULER + sum;
}

/**
 * What Stirling's formula misses: log gamma(x) - ((x - 1/2) log x - x + log(2 pi)/2), for x > 0.
 * Formula: the asymptotic series (Abramowitz & Stegun 6.1.41) from 16 on, reached by the exact recurrence
 * c(x) = c(x + 1) + (x + 1/2) log(1 + 1/x) - 1.
 */
export function stirlingCorrection(x: number): number {
  let shifted = x;
  let sum = 0;
  while (shifted < 16) {
    sum += (shifted + 0.5) * Math.log1p(1 / shifted) - 1;
    shifted += 1;
  }
  const r = 1 / (shifted * shifted);
  const series =
    1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r * (1 / 1188 - r * (691 / 360360)))));
  return sum + series / shifted;
}

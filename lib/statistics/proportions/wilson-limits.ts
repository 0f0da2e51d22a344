/**
 * The score limits of x/n at the normal quantile z (Newcombe, Stat Med 1998;17:857, method 3, or 4 when corrected for
 * continuity). The lower is exactly 0 without events, the upper exactly 1 when every case has one. Needs n > 0.
 */
export function wilsonLimits(
  events: number,
  n: number,
  z: number,
  corrected: boolean,
): { readonly lower: number; readonly upper: number } {
  if (corrected) {
    return {
      lower: events === 0 ? 0 : correctedLower(events, n, z),
      upper: events === n ? 1 : correctedUpper(events, n, z),
    };
  }
  // The smaller root is product over larger root: no cancellation, and exactly 0 without events.
  const larger =
    (events + (z * z) / 2 + z * Math.sqrt((z * z) / 4 + (events * (n - events)) / n)) / (n + z * z);
  return {
    lower: (events * (events / n)) / (n + z * z) / larger,
    upper: events === n ? 1 : larger,
  };
}

/** Written as product over sum, free of the cancellation of the difference it is printed as. */
function correctedLower(events: number, n: number, z: number): number {
  const root = Math.sqrt(z * z - 2 - 1 / n + (4 * events * (n - events + 1)) / n);
  return (2 * events - 1) ** 2 / (2 * n * (2 * events + z * z - 1 + z * root));
}

function correctedUpper(events: number, n: number, z: number): number {
  const root = Math.sqrt(z * z + 2 - 1 / n + (4 * events * (n - events - 1)) / n);
  return (2 * events + z * z + 1 + z * root) / (2 * (n + z * z));
}

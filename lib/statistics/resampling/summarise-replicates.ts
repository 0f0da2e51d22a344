/** Mean and standard deviation (n - 1) of two values or more. */
export function summariseReplicates(values: Float64Array): {
  readonly mean: number;
  readonly standardError: number;
} {
  let sum = 0;
  for (const value of values) sum += value;
  const mean = sum / values.length;
  let squares = 0;
  for (const value of values) squares += (value - mean) ** 2;
  return { mean, standardError: Math.sqrt(squares / (values.length - 1)) };
}

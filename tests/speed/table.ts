import type { Measured } from './measure';

const HEADS = ['row', 'R ms', 'JS ms', 'JS/R', 'x bare', 'target (JS/R; x bare)', 'met', 'differs from R by'];

/** The measured rows as a table of text, one line each. */
export function tableOf(measured: readonly Measured[]): string {
  const lines = [HEADS, ...measured.map(cellsOf)];
  const widths = HEADS.map((_, k) => Math.max(...lines.map((line) => line[k].length)));
  const text = lines.map((line) => line.map((cell, k) => cell.padEnd(widths[k])).join(' | '));
  return [text[0], widths.map((width) => '-'.repeat(width)).join('-|-'), ...text.slice(1)]
    .map((line) => `| ${line} |`)
    .join('\n');
}

function cellsOf({ name, n, libraryMs, bareMs, r, row }: Measured): string[] {
  const timesFaster = r && r.ms / libraryMs;
  const timesBare = libraryMs / bareMs;
  return [
    row.atMost === undefined ? name : `${name}, n = ${n}`,
    r ? digits(r.ms) : '-',
    digits(libraryMs),
    timesFaster === undefined ? '-' : `1/${digits(timesFaster)}`,
    digits(timesBare),
    targetInWords(row.target),
    verdict(row.target, timesFaster, timesBare),
    r ? r.difference.toExponential(1) : '-',
  ];
}

function targetInWords({ timesFasterThanR, timesBare }: Measured['row']['target']): string {
  return `${timesFasterThanR === undefined ? '-' : `1/${timesFasterThanR}`}; ${timesBare ?? '-'}`;
}

/** A target that could not be measured is neither met nor missed. */
function verdict(
  target: Measured['row']['target'],
  timesFaster: number | undefined,
  timesBare: number,
): string {
  const { timesFasterThanR } = target;
  const checks = [
    ...(timesFasterThanR === undefined || timesFaster === undefined ? [] : [timesFaster >= timesFasterThanR]),
    ...(target.timesBare === undefined ? [] : [timesBare <= target.timesBare]),
  ];
  if (checks.length === 0) return '-';
  return checks.every(Boolean) ? 'yes' : 'no';
}

function digits(value: number): string {
  return value >= 100 ? value.toFixed(0) : value.toPrecision(2);
}

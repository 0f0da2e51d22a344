import type { FigureDrawing, LinkedCount, RiskRow, Slot } from '@/lib/analysis/outcomes/figure-model';
import styles from './survival-figure.module.css';

interface SurvivalDrawingProps {
  readonly drawing: FigureDrawing;
  /** Begins every id of the drawing, so that two can stand on one page. */
  readonly idPrefix: string;
  readonly title: string;
  /** The numbers in one sentence: what the drawing says to who does not see it. */
  readonly sentence: string;
  /** False where nothing can be opened: a file, paper. */
  readonly linked?: boolean;
}

/** Colours by token, with the light value for files that travel without the tokens. */
const COLOURS: Readonly<Record<Slot, string>> = {
  a: 'var(--series-a, #0072b2)',
  b: 'var(--series-b, #d55e00)',
  c: 'var(--series-c, #007d5b)',
  d: 'var(--series-d, #b0578f)',
  e: 'var(--series-e, #1b2422)',
};
const DASHES: Readonly<Record<Slot, string>> = {
  a: 'var(--dash-a, none)',
  b: 'var(--dash-b, 7 4)',
  c: 'var(--dash-c, 2 3)',
  d: 'var(--dash-d, 11 4 2 4)',
  e: 'var(--dash-e, 1 2)',
};
const LINE_WIDTH = 2.1;
const INK = 'var(--ink, #1b2422)';
const QUIET = 'var(--ink-quiet, #55625d)';
const HAIRLINE = 'var(--hairline, #d9d4c7)';

/**
 * Curves with bands, direct labels and the numbers at risk: one drawing for screen, paper and file. Everything has its
 * place already; nothing is computed here. The curves are one picture with a name and a description; the counts stand
 * outside it, since what lies inside a picture cannot be a link. They are links for the mouse only: the table beside the figure holds
 * the same links for the keyboard.
 */
export function SurvivalDrawing({ drawing, idPrefix, title, sentence, linked = true }: SurvivalDrawingProps) {
  const { width, height, fontSize, axisTitle, riskHead, riskRows } = drawing;
  const titleId = `${idPrefix}-title`;
  const sentenceId = `${idPrefix}-sentence`;
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${width} ${height}`}
      width="100%"
      fontFamily="var(--sans, 'Source Sans 3', sans-serif)"
      fontSize={fontSize}
      fill={INK}
      className={styles.svg}
    >
      <title>{title}</title>
      <svg role="img" aria-labelledby={titleId} aria-describedby={sentenceId} overflow="visible">
        <title id={titleId}>{`${title}, curves`}</title>
        <desc id={sentenceId}>{sentence}</desc>
        <text x={axisTitle.x} y={axisTitle.y} fontWeight={600}>
          {axisTitle.text}
        </text>
        <Frame drawing={drawing} />
        {drawing.curves.map(({ slot, band }) => (
          <path key={slot} d={band} fill={COLOURS[slot]} opacity={0.14} />
        ))}
        {drawing.curves.map(({ slot, line }) => (
          <path
            key={slot}
            d={line}
            fill="none"
            stroke={COLOURS[slot]}
            strokeWidth={LINE_WIDTH}
            strokeDasharray={DASHES[slot]}
          />
        ))}
        <Names drawing={drawing} />
      </svg>
      <text x={riskHead.x} y={riskHead.y} fill={QUIET}>
        {riskHead.text}
      </text>
      {riskRows.map((row) => (
        <NumbersAtRisk key={row.slot} row={row} linked={linked} fontSize={fontSize} />
      ))}
    </svg>
  );
}

function Frame({ drawing }: { drawing: FigureDrawing }) {
  const { plot, blanking, percents, days, timeTitle, fontSize } = drawing;
  return (
    <>
      {blanking ? (
        <>
          <rect
            x={plot.left}
            y={plot.top}
            width={blanking.width}
            height={plot.bottom - plot.top}
            fill="var(--sunk, #f2efe7)"
          />
          <text x={blanking.label.x} y={blanking.label.y} fill={QUIET} fontSize={fontSize * 0.92}>
            {blanking.label.text}
          </text>
        </>
      ) : null}
      {percents.map(({ x, y, text }) => (
        <g key={text} fill={QUIET}>
          <line x1={plot.left} x2={plot.right} y1={y} y2={y} stroke={HAIRLINE} />
          <text x={x} y={y + fontSize * 0.33} textAnchor="end">
            {text}
          </text>
        </g>
      ))}
      <line x1={plot.left} x2={plot.right} y1={plot.bottom} y2={plot.bottom} stroke={INK} />
      {days.map(({ x, y, text }) => (
        <g key={text}>
          <line x1={x} x2={x} y1={plot.bottom} y2={plot.bottom + 5} stroke={INK} />
          <text x={x} y={y} textAnchor="middle">
            {text}
          </text>
        </g>
      ))}
      <text x={timeTitle.x} y={timeTitle.y} textAnchor="end" fill={QUIET}>
        {timeTitle.text}
      </text>
    </>
  );
}

function Names({ drawing }: { drawing: FigureDrawing }) {
  return drawing.labels.map(({ slot, lines, x, baselines, leader, sample }) => (
    <g key={slot}>
      <path d={leader} fill="none" stroke="var(--rule, #8b948f)" strokeWidth={0.8} />
      <path
        d={sample}
        fill="none"
        stroke={COLOURS[slot]}
        strokeWidth={LINE_WIDTH}
        strokeDasharray={DASHES[slot]}
      />
      {lines.map((line, i) => (
        <text key={line} x={x} y={baselines[i]} fontWeight={600}>
          {line}
        </text>
      ))}
    </g>
  ));
}

function NumbersAtRisk({ row, linked, fontSize }: { row: RiskRow; linked: boolean; fontSize: number }) {
  const { slot, name, nameY, y, othersY, cells } = row;
  return (
    <g>
      <line
        x1={2}
        x2={24}
        y1={nameY - fontSize * 0.33}
        y2={nameY - fontSize * 0.33}
        stroke={COLOURS[slot]}
        strokeWidth={LINE_WIDTH}
        strokeDasharray={DASHES[slot]}
      />
      <text x={30} y={nameY} fontWeight={600}>
        {name}
      </text>
      {cells.map(({ x, atRisk, others }) => (
        <text key={x} x={x} y={y} textAnchor="middle">
          <tspan fontWeight={600}>
            <Count count={atRisk} linked={linked} />
          </tspan>
          {othersY === y ? ' ' : null}
          <tspan {...(othersY === y ? {} : { x, y: othersY })} fill={QUIET}>
            <Others counts={others} linked={linked} />
          </tspan>
        </text>
      ))}
    </g>
  );
}

function Others({ counts, linked }: { counts: readonly LinkedCount[]; linked: boolean }) {
  return (
    <>
      (
      {counts.map((count, i) => (
        <tspan key={count.label}>
          {i === 0 ? '' : ', '}
          <Count count={count} linked={linked} />
        </tspan>
      ))}
      )
    </>
  );
}

function Count({ count, linked }: { count: LinkedCount; linked: boolean }) {
  if (!linked) return count.text;
  return (
    <a href={count.href} tabIndex={-1} aria-label={count.label} className={styles.count}>
      {count.text}
    </a>
  );
}

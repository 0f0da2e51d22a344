import { LedgerTable } from '@/components/tables/ledger-table';
import { Figure } from '@/components/ui/figure';
import type {
  BurdenDrawing,
  BurdenLine,
  BurdenPeriod,
  BurdenView,
} from '@/lib/analysis/follow-up/burden-model';
import styles from './survival-figure.module.css';

const QUIET = 'var(--ink-quiet, #55625d)';
const INK = 'var(--ink, #1b2422)';
const BAR = 'var(--series-a, #0072b2)';
const STRIP_HEIGHT = 10;

/** The daily burden of one patient: drawn for the width there is, its sentence, its caption, and the same days as tables. */
export function BurdenFigure({ view }: { view: BurdenView }) {
  const { title, sentence, drawings, caption } = view;
  return (
    <>
      <Figure
        title={title}
        caption={caption.map((line) => (
          <span key={line} className={styles.caption}>
            {line}
          </span>
        ))}
      >
        <div className={styles.box}>
          <div className={styles.wide}>
            <Drawing drawing={drawings.wide} id="burden-wide" title={title} sentence={sentence} />
          </div>
          <div className={styles.narrow}>
            <Drawing drawing={drawings.narrow} id="burden-narrow" title={title} sentence={sentence} />
          </div>
        </div>
        <p className={styles.sentence}>{sentence}</p>
      </Figure>
      <LedgerTable<BurdenPeriod>
        caption="Burden by period"
        rows={view.periods}
        rowKey={({ label }) => label}
        columns={[
          { key: 'period', head: 'Period', rowHead: true, cell: ({ label }) => label },
          { key: 'recorded', head: 'Days recorded', kind: 'number', cell: ({ recorded }) => recorded },
          {
            key: 'with',
            head: 'With arrhythmia',
            kind: 'number',
            cell: ({ withArrhythmia }) => withArrhythmia,
          },
          {
            key: 'burden',
            head: 'Burden of the recorded time',
            kind: 'number',
            cell: ({ burden }) => burden,
          },
          { key: 'change', head: 'Change from baseline', kind: 'number', cell: ({ change }) => change },
        ]}
      />
      <details className={styles.table}>
        <summary>Table of all days</summary>
        <LedgerTable<BurdenLine>
          caption="Every recorded day: days without arrhythmia together, each day with it by itself"
          rows={view.lines}
          rowKey={({ key }) => key}
          columns={[
            { key: 'days', head: 'Day', rowHead: true, cell: ({ days }) => days },
            { key: 'dates', head: 'Date', kind: 'day', cell: ({ dates }) => dates },
            { key: 'burden', head: 'Burden', kind: 'number', cell: ({ burden }) => burden },
            { key: 'longest', head: 'Longest episode', kind: 'number', cell: ({ longest }) => longest },
          ]}
        />
      </details>
    </>
  );
}

interface DrawingProps {
  readonly drawing: BurdenDrawing;
  readonly id: string;
  readonly title: string;
  readonly sentence: string;
}

/** Everything has its place already; nothing is computed here. */
function Drawing({ drawing, id, title, sentence }: DrawingProps) {
  const { width, height, fontSize, plot, percents, days, timeTitle, bars, anyStrip, recordedStrip } = drawing;
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${width} ${height}`}
      width="100%"
      role="img"
      aria-labelledby={`${id}-title`}
      aria-describedby={`${id}-sentence`}
      fontFamily="var(--sans, 'Source Sans 3', sans-serif)"
      fontSize={fontSize}
      fill={INK}
      className={styles.svg}
    >
      <title id={`${id}-title`}>{title}</title>
      <desc id={`${id}-sentence`}>{sentence}</desc>
      {percents.map(({ x, y, text }) => (
        <g key={text} fill={QUIET}>
          <line x1={plot.left} x2={plot.right} y1={y} y2={y} stroke="var(--hairline, #d9d4c7)" />
          <text x={x} y={y + fontSize * 0.33} textAnchor="end">
            {text}
          </text>
        </g>
      ))}
      <path d={bars} fill={BAR} />
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
      {drawing.procedures.map(({ x, label }) => (
        <g key={x}>
          <line x1={x} x2={x} y1={plot.top} y2={plot.bottom} stroke={INK} strokeDasharray="3 3" />
          <text x={label.x} y={label.y}>
            {label.text}
          </text>
        </g>
      ))}
      <Strip strip={anyStrip} fill={BAR} />
      <Strip strip={recordedStrip} fill={QUIET} />
    </svg>
  );
}

function Strip({ strip, fill }: { strip: BurdenDrawing['anyStrip']; fill: string }) {
  return (
    <g>
      <text x={strip.label.x} y={strip.label.y} fill={QUIET}>
        {strip.label.text}
      </text>
      {strip.parts.map(({ x, width }) => (
        <rect key={x} x={x} y={strip.y} width={width} height={STRIP_HEIGHT} fill={fill} />
      ))}
    </g>
  );
}

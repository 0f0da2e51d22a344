/** Colour, dash and place of a series: always the three together. */
export const SLOTS = ['a', 'b', 'c', 'd', 'e'] as const;
export type Slot = (typeof SLOTS)[number];

/** A count that opens its cases. */
export interface LinkedCount {
  readonly text: string;
  readonly href: string;
  /** In full, for people who do not see the figure: '812 at risk on day 365, Wide encircling'. */
  readonly label: string;
}

/** A text at a place of the drawing. */
export interface PlacedText {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** Numbers of one group at one tick, centred on x: at risk (censored, events[, died]), in one line or two. */
interface RiskCell {
  readonly x: number;
  readonly atRisk: LinkedCount;
  readonly others: readonly LinkedCount[];
}

export interface RiskRow {
  readonly slot: Slot;
  readonly name: string;
  readonly nameY: number;
  readonly y: number;
  /** Baseline of what stands in brackets: below `y` where room is scarce. */
  readonly othersY: number;
  readonly cells: readonly RiskCell[];
}

/**
 * Name of a series beside the end of its curve: a sample of its line, the name in ink (the colours are clear enough for
 * lines, not for letters), and the line that leads there from the curve.
 */
export interface DirectLabel {
  readonly slot: Slot;
  readonly sample: string;
  readonly lines: readonly string[];
  readonly x: number;
  /** Baselines of the lines. */
  readonly baselines: readonly number[];
  readonly leader: string;
}

/** One drawing, everything placed, for one width. */
export interface FigureDrawing {
  readonly width: number;
  readonly height: number;
  readonly fontSize: number;
  readonly plot: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
  readonly axisTitle: PlacedText;
  readonly timeTitle: PlacedText;
  readonly percents: readonly PlacedText[];
  /** Days with numbers under them. */
  readonly tickDays: readonly number[];
  /** Their labels, and that of day 0 when it has room and no numbers. */
  readonly days: readonly PlacedText[];
  readonly blanking: { readonly width: number; readonly label: PlacedText } | undefined;
  readonly curves: readonly { readonly slot: Slot; readonly line: string; readonly band: string }[];
  readonly labels: readonly DirectLabel[];
  readonly riskHead: PlacedText;
  readonly riskRows: readonly RiskRow[];
}

/** One line of the table of the figure: a group on a day. */
export interface FigureTableRow {
  readonly key: string;
  readonly group: string;
  readonly day: string;
  readonly freedom: string;
  readonly interval: string;
  readonly counts: readonly LinkedCount[];
}

/** A figure: drawn twice from the same numbers (wide and narrow), as a table, and in one sentence. */
export interface SurvivalFigureModel {
  readonly title: string;
  /** The numbers in one sentence. */
  readonly sentence: string;
  /** Undefined: nothing may be drawn, as `undrawn` says. */
  readonly drawings: { readonly wide: FigureDrawing; readonly narrow: FigureDrawing } | undefined;
  /** Why there is no drawing, or no curve for some groups. */
  readonly undrawn: string | undefined;
  /** Lines under the figure: definition, cohort, method, data, day. */
  readonly caption: readonly string[];
  /** Heads of the counts in the table. */
  readonly countHeads: readonly string[];
  readonly table: readonly FigureTableRow[];
}

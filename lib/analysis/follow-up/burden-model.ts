/** A text at a place of the drawing. */
export interface PlacedText {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** A stretch of the strip under the plot. */
export interface StripPart {
  readonly x: number;
  readonly width: number;
}

/** The daily burden of one patient, everything placed, for one width. */
export interface BurdenDrawing {
  readonly width: number;
  readonly height: number;
  readonly fontSize: number;
  readonly plot: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
  readonly percents: readonly PlacedText[];
  readonly days: readonly PlacedText[];
  readonly timeTitle: PlacedText;
  /** One bar per day with arrhythmia. */
  readonly bars: string;
  /** Days with any arrhythmia, however short: a burden of a few seconds makes no visible bar. */
  readonly anyStrip: { readonly y: number; readonly label: PlacedText; readonly parts: readonly StripPart[] };
  readonly recordedStrip: {
    readonly y: number;
    readonly label: PlacedText;
    readonly parts: readonly StripPart[];
  };
  readonly procedures: readonly { readonly x: number; readonly label: PlacedText }[];
}

/** One line of the table of days: a run without arrhythmia, or one day with it. */
export interface BurdenLine {
  readonly key: string;
  /** Days since the procedure: '0 to 199', '200'. */
  readonly days: string;
  /** '2025-01-10 to 2025-07-28'. */
  readonly dates: string;
  readonly burden: string;
  readonly longest: string;
}

/** One line of the table of periods. */
export interface BurdenPeriod {
  readonly label: string;
  readonly recorded: string;
  readonly withArrhythmia: string;
  readonly burden: string;
  readonly change: string;
}

/** The burden of one case as the page shows it: drawn twice from the same days, as tables, and in one sentence. */
export interface BurdenView {
  readonly title: string;
  readonly sentence: string;
  readonly drawings: { readonly wide: BurdenDrawing; readonly narrow: BurdenDrawing };
  readonly caption: readonly string[];
  readonly periods: readonly BurdenPeriod[];
  readonly lines: readonly BurdenLine[];
}

/**
 * A page of words and numbers, described once and shown in two ways: as text that fits a terminal, and as parts of the
 * panel. It says what belongs into which column and what may be left out first; it measures nothing. Its texts may
 * come from files; both ways make them safe for their destination.
 */
export interface Page {
  readonly title?: string;
  readonly parts: readonly PagePart[];
}

export type PagePart =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'prose'; readonly text: string }
  /** One item a line, each with its subject in front. */
  | { readonly kind: 'list'; readonly items: readonly ListItem[] }
  /** Names in one column, each with a text in the next. */
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [name: string, said: string])[] }
  | TablePart
  | PlacesPart
  | BarsPart
  | CurvePart
  | LinesPart;

export interface ListItem {
  readonly name?: string;
  readonly text: string;
}

export interface TablePart {
  readonly kind: 'table';
  readonly columns: readonly PageColumn[];
  readonly rows: readonly (readonly PageCell[])[];
}

export interface PageColumn {
  readonly title: string;
  readonly align: 'left' | 'right';
  /** Where the table is too wide, the column with the highest number is left out first. Left out here: it stays. */
  readonly least?: number;
  /** What it is called where it is said to be left out. Default: its title. */
  readonly called?: string;
}

export type PageCell = string | RangePicture;

/**
 * A range as a small bar with a mark in it; all of a column are on one scale, which begins at zero or below. It repeats
 * numbers that are written elsewhere, so the panel leaves its column out.
 */
export interface RangePicture {
  readonly low: number;
  readonly mark: number;
  readonly high: number;
}

/** Places in files, each with what is said of it: one a line, so that programs find them; a terminal may break it. */
export interface PlacesPart {
  readonly kind: 'places';
  readonly places: readonly {
    /** `a.route.yaml:12:3`. */
    readonly place: string;
    readonly text: string;
    /** A code at the end. */
    readonly code?: string;
    /** Whether it belongs to the place above it. */
    readonly below?: boolean;
  }[];
}

/** Amounts as bars, one row each, on one scale. The words beside each say the amount, so the panel leaves it out. */
export interface BarsPart {
  readonly kind: 'bars';
  readonly rows: readonly {
    readonly name: string;
    readonly pieces: readonly BarPiece[];
    readonly text: string;
  }[];
  /** What the fillings mean, where there are several. */
  readonly key?: readonly (readonly [fill: BarPiece['fill'], meaning: string])[];
}

export interface BarPiece {
  readonly amount: number;
  readonly fill: 'full' | 'light' | 'empty';
}

/** Shares over time as a small line of bars, with what is expected after a mark. The panel leaves it out. */
export interface CurvePart {
  readonly kind: 'curve';
  readonly from: string;
  /** 0 to 1. */
  readonly before: readonly number[];
  readonly after: readonly number[];
  readonly to: string;
}

/** Shares over time as small lines of bars, one row each, all of one length. Markdown has the words alone. */
export interface LinesPart {
  readonly kind: 'lines';
  readonly rows: readonly {
    readonly name: string;
    /** 0 to 1; null where there is nothing to show. */
    readonly shares: readonly (number | null)[];
    readonly text: string;
  }[];
}

export const heading = (text: string): PagePart => ({ kind: 'heading', text });
export const prose = (text: string): PagePart => ({ kind: 'prose', text });
export const bulletList = (items: readonly ListItem[]): PagePart => ({ kind: 'list', items });
export const facts = (rows: readonly (readonly [string, string])[]): PagePart => ({ kind: 'facts', rows });

/** A table whose first column is words and whose others are numbers, unless `align` says otherwise: l or r a column. */
export function tableOf(
  titles: readonly string[],
  rows: readonly (readonly PageCell[])[],
  align = `l${'r'.repeat(titles.length - 1)}`,
): TablePart {
  const columns = titles.map((title, i) => ({
    title,
    align: align[i] === 'l' ? ('left' as const) : ('right' as const),
  }));
  return { kind: 'table', columns, rows };
}

/** The columns that hold words and numbers only. */
export function withoutPictures({ columns, rows }: TablePart): {
  columns: readonly PageColumn[];
  rows: readonly string[][];
} {
  const words = columns.map((_, i) => rows.every((row) => typeof row[i] !== 'object'));
  return {
    columns: columns.filter((_, i) => words[i]),
    rows: rows.map((row) =>
      row.filter((_, i) => words[i]).map((cell) => (typeof cell === 'string' ? cell : '')),
    ),
  };
}

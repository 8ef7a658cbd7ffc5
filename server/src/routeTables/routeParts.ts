/** What tables add to a route, and what it has before. */

/** A segment of a table. Its numbers are written as in a route file. */
export interface TableSegment {
  readonly id: string;
  readonly name: string | undefined;
  /** Seconds, or `m:ss.s`. */
  readonly time: string;
  /** Seconds. */
  readonly spread: number | undefined;
  readonly survive: number | undefined;
  readonly uses: readonly TableUse[];
  readonly notes: string | undefined;
  readonly links: readonly string[];
  /** Keys of the user's own, which begin with `x-`. */
  readonly own: Readonly<Record<string, string | number>>;
}

/** A use of a technique, with what differs from the technique there. */
export interface TableUse {
  readonly technique: string;
  readonly id?: string;
  readonly saves?: number | string;
  readonly loses?: number | string;
}

export interface TableTechnique {
  readonly id: string;
  readonly name: string | undefined;
  readonly difficulty: number;
  /** Seconds, or a range of seconds such as `9..16`. */
  readonly saves: number | string;
  readonly loses: number | string | undefined;
  readonly endsRun: boolean | undefined;
  readonly needs: readonly string[];
  readonly practice: {
    readonly attempt?: number;
    readonly reload?: number;
    readonly from?: string;
  };
  readonly notes: string | undefined;
  readonly links: readonly string[];
  readonly own: Readonly<Record<string, string | number>>;
}

/** What tables add to a route. */
export interface RouteParts {
  readonly segments: readonly TableSegment[];
  readonly techniques: readonly TableTechnique[];
  /** Uses of new techniques in segments that the route has already. */
  readonly usesOfKnown: readonly UsesOfKnown[];
  /** Names of rows that the route has already: nothing is read from them. */
  readonly skipped: readonly string[];
  /** Headings of columns that nothing is read from. */
  readonly unread: readonly string[];
}

/** Uses that are added to a segment of the route. */
export interface UsesOfKnown {
  /** Its id. */
  readonly segment: string;
  readonly uses: readonly TableUse[];
}

/** A segment or a technique that the route has before the tables are read. */
export interface KnownPart {
  readonly id: string;
  readonly name?: string | undefined;
}

/** A segment that the route has before, with the ids of the techniques that it uses. */
export interface KnownSegment extends KnownPart {
  readonly techniques: readonly string[];
}

/** What a route has already: ids of the tables differ from these, and rows may name them. */
export interface KnownRoute {
  readonly segments: readonly KnownSegment[];
  readonly techniques: readonly KnownPart[];
  /** Uses that exist, as logs name them: `wall-kick`, `wall-kick@second`. */
  readonly uses: readonly string[];
}

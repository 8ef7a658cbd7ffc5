import type { Listing } from '../fileKind.ts';
import { bodyOf, entryFrom } from './longEntry.ts';
import { parseYaml, type Parsed } from './parseYaml.ts';
import type { Span } from './problem.ts';
import { split, type Piece } from './splitIntoChunks.ts';
import { splitAgain } from './resplit.ts';

/** What was read of a piece of a file's text. It knows nothing of where it stands, and so outlives what stands above it. */
export interface Part {
  /** Set for the entries of a section. */
  readonly section: Listing | undefined;
  /** True for lines that belong to no entry. */
  readonly stray: boolean;
  readonly parsed: ParsedPart;
}

/** What a piece says; that of a long entry was itself read in pieces. */
export interface ParsedPart extends Parsed {
  readonly inParts?: InParts;
}

/** A text in pieces that were read apart: each ends where the next begins. */
export interface InParts {
  readonly text: string;
  readonly parts: readonly Part[];
  readonly starts: readonly number[];
  /** How many of the parts are lines that belong nowhere, and how many are those or have a problem. */
  readonly strays: number;
  readonly troubled: number;
  /** How many of the parts have anchors or aliases: with any, the pieces cannot be read apart after all. */
  readonly anchored: number;
}

export interface Parts extends InParts {
  /** The stretch of text that was read anew; all around it stood in the text before. */
  readonly anew: Span;
  /** Whether the parts say the same keys in the same order as those before. */
  readonly sameKeys: boolean;
}

/**
 * Reads a text in pieces; what was read of a piece of the text before is taken from there. Undefined where the text
 * cannot be read in pieces.
 *
 * @param base the column of the outermost keys, the same as in the text before
 */
export function readParts(
  text: string,
  sections: readonly Listing[],
  before?: InParts,
  base = 0,
): Parts | undefined {
  const again = before && splitAgain(text, sections, before, base);
  return again ? readAgain(text, before, again) : readAll(text, sections, before, base);
}

function readAll(
  text: string,
  sections: readonly Listing[],
  before: InParts | undefined,
  base: number,
): Parts | undefined {
  const known = new Known(before, 0, before?.parts.length ?? 0);
  const pieces = split(text, sections, base);
  if (!pieces) return undefined;
  const parts = pieces.map((piece) => readPart(text, piece, known));
  return {
    text,
    parts,
    starts: pieces.map(({ start }) => start),
    ...countsIn(parts),
    anew: { start: 0, end: text.length },
    sameKeys: false,
  };
}

function readAgain(
  text: string,
  before: InParts,
  { from, to, pieces, shift }: NonNullable<ReturnType<typeof splitAgain>>,
): Parts {
  const known = new Known(before, from, to);
  const fresh = pieces.map((piece) => readPart(text, piece, known));
  const gone = before.parts.slice(from, to);
  const [left, came] = [countsIn(gone), countsIn(fresh)];
  const anew = pieces.map(({ start }) => start);
  const starts = before.starts.slice(0, from).concat(anew, before.starts.slice(to));
  for (let at = from + anew.length; at < starts.length; at++) starts[at]! += shift;
  return {
    text,
    parts: before.parts.slice(0, from).concat(fresh, before.parts.slice(to)),
    starts,
    strays: 0,
    troubled: before.troubled - left.troubled + came.troubled,
    anchored: before.anchored - left.anchored + came.anchored,
    anew: { start: pieces[0]!.start, end: pieces.at(-1)!.end },
    sameKeys: gone.length === fresh.length && gone.every((part, at) => keysOf(part) === keysOf(fresh[at]!)),
  };
}

const unread: Parsed = { tree: undefined, problems: [], usesAnchors: false };

function readPart(text: string, { start, end, section, stray = false }: Piece, known: Known): Part {
  if (stray) return { section, stray, parsed: unread };
  const own = text.slice(start, end);
  let parsed = known.get(own);
  if (!parsed) known.set(own, (parsed = readPiece(own, section, known)));
  return { section, stray, parsed };
}

/** Characters from which an entry is read in pieces itself: a few hundred lines. */
const long = 10_000;

function readPiece(cut: string, section: Listing | undefined, known: Known): ParsedPart {
  const text = alone(cut);
  const body = section?.inner && text.length > long ? bodyOf(text) : undefined;
  const before = body && known.longLike(body.column);
  const inParts = body && readParts(body.text, section!.inner!, before, body.column);
  const tree = inParts && entryFrom(inParts, text.indexOf('-'));
  return tree ? { tree, problems: [], usesAnchors: false, inParts } : parseYaml(text);
}

/** A copy: what is cut out of a text keeps all of that text in memory, and so would every name that is read from it. */
function alone(text: string): string {
  return ` ${text}`.slice(1);
}

/** What was read of some parts of the text before. */
class Known {
  private readonly texts = new Map<string, ParsedPart>();
  private readonly longs: InParts[] = [];

  constructor(before: InParts | undefined, from: number, to: number) {
    for (let at = from; at < to; at++) {
      const { stray, parsed } = before!.parts[at]!;
      if (stray) continue;
      this.texts.set(before!.text.slice(before!.starts[at], before!.starts[at + 1]), parsed);
      if (parsed.inParts) this.longs.push(parsed.inParts);
    }
  }

  /** What was read of a piece, by its text. */
  get(text: string): ParsedPart | undefined {
    return this.texts.get(text);
  }

  set(text: string, parsed: ParsedPart): void {
    this.texts.set(text, parsed);
  }

  /** The pieces of a long entry that is likely the same before an edit: the next with its keys in this column. */
  longLike(column: number): InParts | undefined {
    const at = this.longs.findIndex(({ text }) => text.search(/\S/) === column);
    return at < 0 ? undefined : this.longs.splice(at, 1)[0];
  }
}

/** How many of some parts are what cannot be read, or taken, as usual. */
function countsIn(parts: readonly Part[]): Pick<InParts, 'strays' | 'troubled' | 'anchored'> {
  return {
    strays: parts.filter(({ stray }) => stray).length,
    troubled: parts.filter(({ stray, parsed }) => stray || parsed.problems.length > 0).length,
    anchored: parts.filter(({ parsed }) => parsed.usesAnchors).length,
  };
}

/** The keys that a part adds to the file or to its section. */
function keysOf({ section, parsed: { tree } }: Part): string {
  const keys = tree?.type === 'map' ? tree.entries.map(({ key }) => key.value) : [];
  return JSON.stringify([section?.key, tree?.type, ...keys]);
}

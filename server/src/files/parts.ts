import type { Section } from './kinds.ts';
import { parseYaml, type Parsed } from './parse.ts';
import type { Span } from './problem.ts';
import { split, type Piece } from './split.ts';
import { splitAgain } from './splitAgain.ts';

/** What was read of a piece of a file's text. It knows nothing of where it stands, and so outlives what stands above it. */
export interface Part {
  /** Set for the entries of a section. */
  readonly section: Section | undefined;
  /** True for lines that belong to no entry. */
  readonly stray: boolean;
  readonly parsed: Parsed;
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
 */
export function readParts(text: string, sections: readonly Section[], before?: InParts): Parts | undefined {
  const again = before && splitAgain(text, sections, before);
  return again ? readAgain(text, before, again) : readAll(text, sections, before);
}

function readAll(text: string, sections: readonly Section[], before: InParts | undefined): Parts | undefined {
  const known = before ? textsOf(before, 0, before.parts.length) : new Map<string, Parsed>();
  const pieces = split(text, sections);
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
  const known = textsOf(before, from, to);
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

function readPart(
  text: string,
  { start, end, section, stray = false }: Piece,
  known: Map<string, Parsed>,
): Part {
  if (stray) return { section, stray, parsed: unread };
  const own = text.slice(start, end);
  let parsed = known.get(own);
  if (!parsed) known.set(own, (parsed = parseYaml(alone(own))));
  return { section, stray, parsed };
}

/** A copy: what is cut out of a text keeps all of that text in memory, and so would every name that is read from it. */
function alone(text: string): string {
  return ` ${text}`.slice(1);
}

/** What was read of some of the parts, by the text that it was read from. */
function textsOf({ text, parts, starts }: InParts, from: number, to: number): Map<string, Parsed> {
  const texts = new Map<string, Parsed>();
  for (let at = from; at < to; at++) {
    const { stray, parsed } = parts[at]!;
    if (!stray) texts.set(text.slice(starts[at], starts[at + 1]), parsed);
  }
  return texts;
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

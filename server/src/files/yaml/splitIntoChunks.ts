import type { Listing } from '../fileKind.ts';
import { linesOf, type Line } from '../../text/lines.ts';
import { mergeMarker } from './mergeConflicts.ts';

/** A stretch of a text that can be read on its own: one key of the outermost, or one entry of a section. */
export interface Piece {
  readonly start: number;
  readonly end: number;
  /** Set for the entries of a section, whose own line is a piece before them. */
  readonly section?: Listing;
  /** Set for lines that belong to no entry: half-typed, badly indented, or left over from a merge. */
  readonly stray?: boolean;
}

/** `key:` in front of a value; quoted keys and keys with a tag, an anchor or an alias before them too. */
const keyAhead =
  /^(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*'|(?:[^ \t\uFEFF\-?:,[\]{}#|>'"%@`]|[-?:](?=[^ \t]))(?:[^:#]|:(?=[^ \t])|(?<=[^ \t])#)*?)[ \t]{0,99}:(?=[ \t]|$)/;
/** A key has at most 1024 characters in YAML; looking no further keeps long lines cheap. */
const longestKey = 1100;
const dashAhead = /^-(?=[ \t]|$)/;
/** `? key` and `: value`, each on its own line. */
const explicitKey = /^[?:](?=[ \t]|$)/;
const closingBracket = /^[\]}]/;
const documentMark = /^(?:(?:---|\.\.\.)(?=[ \t]|$)|%)/;
/** What can begin a section's value that is no block of entries. */
const otherValue = /^(?:["'&*!{[|>]|[-?:](?=[ \t]|$))/;
const blankOrComment = /^[ \t]*(?:#|$)/;

/**
 * Cuts a file's text into pieces that can be read apart, so that an edit costs one piece. Returns undefined
 * wherever that could change what the text means: the whole is then read as one. The pieces cover the text
 * from its first line on.
 *
 * Relies on YAML's rule that what belongs to a block entry is indented deeper than the entry itself, also
 * inside quotes and brackets. Anchors are found when the pieces are read.
 *
 * @param base the column of the outermost keys
 */
export function split(text: string, sections: readonly Listing[], base = 0): Piece[] | undefined {
  if (hasLoneReturn(text)) return undefined;
  const splitter = new Splitter(text, sections, base);
  let start = text.startsWith('\uFEFF') ? 1 : 0;
  for (const line of linesOf(text, start)) {
    const nothingYet = splitter.pieces.length === 0;
    if (line.text === '---' && nothingYet && !splitter.begun) {
      splitter.begun = true;
      start = line.next;
    } else if (!splitter.take(line)) {
      return undefined;
    }
  }
  const first = splitter.pieces[0];
  if (!first || splitter.unsure) return undefined;
  // Comments before the first key belong to it.
  first.start = start;
  return splitter.pieces;
}

/** A carriage return by itself ends a line in YAML, and in nothing else that counts lines. */
export function hasLoneReturn(text: string): boolean {
  return text.includes('\r') && /\r(?!\n)/.test(text);
}

/** Takes the lines of a file one after the other, and puts each into a piece. */
export class Splitter {
  readonly pieces: { start: number; end: number; section?: Listing; stray?: boolean }[] = [];
  /** True after the `---` that may begin a file. */
  begun = false;
  /** True while a section's first line was no entry: it may still turn out to be a value of another form. */
  unsure = false;
  private section: Listing | undefined;
  /** Of the open section's entries; -1 before the first. */
  private indent = -1;
  /** Index of the first piece after the open section's own line. */
  private first = 0;
  private readonly text: string;
  private readonly sections: readonly Listing[];
  private readonly base: number;

  /** @param base the column of the outermost keys */
  constructor(text: string, sections: readonly Listing[], base: number) {
    this.text = text;
    this.sections = sections;
    this.base = base;
  }

  /** Begins inside a section, at an entry of it. */
  resume(section: Listing, indent: number): void {
    this.section = section;
    this.indent = indent;
  }

  /**
   * Whether a line that began a piece before (of a section, or a top-level key) would begin one here too, with the
   * same to follow.
   */
  goesOnWith(section: Listing | undefined, depth: number): boolean {
    if (this.unsure || !section) return !this.unsure;
    return this.section === section && (this.indent < 0 || this.indent === depth);
  }

  /** Gives a line its place; false where the file cannot be read in pieces. */
  take(line: Line): boolean {
    if (blankOrComment.test(line.text)) {
      this.extend(line);
      return true;
    }
    const head = line.depth === Infinity ? '' : line.text.slice(line.depth, line.depth + longestKey);
    const listEntry = this.section?.shape === 'list' && dashAhead.test(head);
    if (line.depth < this.base) return false;
    if (line.depth === this.base && !listEntry) return this.top(line, head);
    if (this.section) return this.inside(line, head, this.section);
    return this.extend(line);
  }

  /** A line in the column of the outermost keys. */
  private top(line: Line, head: string): boolean {
    if (this.unsure || documentMark.test(head) || explicitKey.test(head)) return false;
    if (dashAhead.test(head) || closingBracket.test(head)) return this.extend(line);
    const key = keyAhead.exec(head)?.[0];
    if (key === undefined) {
      // Whatever section was open stays open: a merge marker or a broken line does not end it.
      if (this.pieces.length === 0 && !mergeMarker.test(head)) return false;
      this.stray(line);
      return true;
    }
    this.pieces.push({ start: line.start, end: line.next });
    const known = this.sections.find((section) => section.key === key.slice(0, -1).trimEnd());
    const open = blankOrComment.test(line.text.slice(line.depth + key.length));
    this.section = known && open ? known : undefined;
    this.indent = -1;
    this.first = this.pieces.length;
    return true;
  }

  /** An indented line while a section is open, or an entry of a list in the column of its key. */
  private inside(line: Line, head: string, section: Listing): boolean {
    const begins = (section.shape === 'list' ? dashAhead : keyAhead).test(head);
    if (this.indent < 0) {
      if (!begins) {
        // Either the section's value is no block at all, or a half-typed line stands before its first entry.
        if (otherValue.test(head)) return false;
        this.unsure = true;
        this.stray(line, section);
        return true;
      }
      this.indent = line.depth;
      this.unsure = false;
    }
    if (begins && line.depth < this.indent && this.firstIsOff(line, section)) this.restart(line, section);
    if (line.depth > this.indent) return this.extend(line);
    if (line.depth === this.indent) {
      if (begins) {
        this.pieces.push({ start: line.start, end: line.next, section });
        return true;
      }
      if (explicitKey.test(head)) return false;
      if (dashAhead.test(head) || closingBracket.test(head)) return this.extend(line);
    }
    this.stray(line, section);
    return true;
  }

  /**
   * True where not this line but what the section began with is badly indented: a stray line, or one entry while
   * others stand as far left as this one.
   */
  private firstIsOff({ depth, next }: Line, { shape }: Listing): boolean {
    const entries = this.pieces.slice(this.first, this.first + 20);
    if (entries[0]?.stray) return true;
    const lonely = entries.filter(({ stray }) => !stray).length === 1;
    // `id:` with what should be its keys beside it.
    const emptied = shape === 'map' && /:\s*$/.test(this.textOf(entries[0]));
    if (!lonely && !emptied) return false;
    const entry = shape === 'list' ? '-[ \\t]' : '[^\\s#-]';
    const another = new RegExp(`\\n(?:( {${depth}}(?=${entry}))|(?=[^\\s#-]))`, 'g');
    another.lastIndex = next - 1;
    return another.exec(this.text)?.[1] !== undefined;
  }

  private textOf(piece: Piece | undefined): string {
    return piece ? this.text.slice(piece.start, piece.end) : '';
  }

  /** Takes everything in the section so far for stray lines, and this line for its first entry. */
  private restart(line: Line, section: Listing): void {
    const start = this.pieces[this.first]!.start;
    this.pieces.length = this.first;
    this.pieces.push({ start, end: line.start, section, stray: true });
    this.indent = line.depth;
  }

  /** The line belongs to the piece before it; false where there is none yet but the line says something. */
  private extend(line: Line): boolean {
    const last = this.pieces.at(-1);
    if (last) last.end = line.next;
    return last !== undefined;
  }

  /** Lines that belong to nothing are one piece as long as they follow each other: one mistake, one problem. */
  private stray(line: Line, section?: Listing): void {
    if (this.pieces.at(-1)?.stray) this.extend(line);
    else this.pieces.push({ start: line.start, end: line.next, stray: true, ...(section && { section }) });
  }
}

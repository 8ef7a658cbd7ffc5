import type { EntryCollection } from '../fileKind.ts';
import { linesOf, type TextLine } from '../../text/lines.ts';
import { mergeMarker } from './mergeConflicts.ts';

/** A stretch of a text that can be read on its own: one key of the outermost, or one entry of a section. */
export interface ChunkRange {
  readonly start: number;
  readonly end: number;
  /** Set for the entries of a section, whose own line is a piece before them. */
  readonly section?: EntryCollection;
  /** Set for lines that belong to no entry: half-typed, badly indented, or left over from a merge. */
  readonly stray?: boolean;
}

/** A quoted key with its colon, from the beginning of the line's content. */
const quotedKey = /^(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*')[ \t]*:(?=[ \t]|$)/;
/** The first character of a key without quotes, also of one with a tag, an anchor or an alias before it. */
const plainKeyStart = /^(?:[^ \t\uFEFF\-?:,[\]{}#|>'"%@`]|[-?:](?=[^ \t]))/;
/** The colon that ends a key without quotes, or a comment before there is one. */
const plainKeyEnd = /:(?=[ \t]|$)|[ \t]#/;
/** A key has at most 1024 characters in YAML; looking no further keeps long lines cheap. */
const longestKey = 1100;
const dashAhead = /^-(?=[ \t]|$)/;
/** `? key` and `: value`, each on its own line. */
const explicitKey = /^[?:](?=[ \t]|$)/;
const closingBracket = /^[\]}]/;
const documentMark = /^(?:(?:---|\.\.\.)(?=[ \t]|$)|%)/;
/** Beginnings of a section's value that is not a block of entries. */
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
export function splitIntoChunks(
  text: string,
  sections: readonly EntryCollection[],
  base = 0,
): ChunkRange[] | undefined {
  if (hasLoneReturn(text)) return undefined;
  const splitter = new ChunkSplitter(text, sections, base);
  let start = text.startsWith('\uFEFF') ? 1 : 0;
  for (const line of linesOf(text, start)) {
    const nothingYet = splitter.ranges.length === 0;
    if (line.text === '---' && nothingYet && !splitter.documentStarted) {
      splitter.documentStarted = true;
      start = line.nextStart;
    } else if (!splitter.addLine(line)) {
      return undefined;
    }
  }
  const first = splitter.ranges[0];
  if (!first || splitter.unsure) return undefined;
  // Comments before the first key belong to it.
  first.start = start;
  return splitter.ranges;
}

/**
 * Whether a carriage return stands without a line feed. It ends a line in YAML, and nowhere else that lines are
 * counted.
 */
export function hasLoneReturn(text: string): boolean {
  return text.includes('\r') && /\r(?!\n)/.test(text);
}

/** `key:` at the beginning of a line's content, with its colon; undefined where there is no key before a value. */
function keyAhead(head: string): string | undefined {
  const quoted = quotedKey.exec(head)?.[0];
  if (quoted !== undefined || !plainKeyStart.test(head)) return quoted;
  // The first character is looked at already: a colon there belongs to the key.
  const end = plainKeyEnd.exec(head.slice(1));
  return end?.[0] === ':' ? head.slice(0, end.index + 2) : undefined;
}

/** The lines of a section below a place. */
interface SectionRemainder {
  /** Where the next outermost key begins, or the end of the text. */
  readonly end: number;
  /** By indent: where the last line begins that may be an entry. */
  readonly lastEntry: ReadonlyMap<number, number>;
}

/** Takes the lines of a file one after the other, and puts each into a piece. */
export class ChunkSplitter {
  readonly ranges: { start: number; end: number; section?: EntryCollection; stray?: boolean }[] = [];
  /** True after the `---` that may begin a file. */
  documentStarted = false;
  /** True while a section's first line was no entry: it may still turn out to be a value of another form. */
  unsure = false;
  private section: EntryCollection | undefined;
  /** Of the open section's entries; -1 before the first. */
  private indent = -1;
  /** Index of the first piece after the open section's own line. */
  private first = 0;
  /** What stands below in the open section, as long as it is asked for. */
  private remainder: SectionRemainder | undefined;
  private readonly text: string;
  private readonly sections: readonly EntryCollection[];
  private readonly base: number;

  /** @param base the column of the outermost keys */
  constructor(text: string, sections: readonly EntryCollection[], base: number) {
    this.text = text;
    this.sections = sections;
    this.base = base;
  }

  /** Begins inside a section, at an entry of it. */
  resume(section: EntryCollection, indent: number): void {
    this.section = section;
    this.indent = indent;
  }

  /**
   * Whether a line that began a piece of the previous text (an entry of this section, or a top-level key) would begin
   * one here too, with the same pieces after it.
   */
  continuesSection(section: EntryCollection | undefined, depth: number): boolean {
    if (this.unsure || !section) return !this.unsure;
    return this.section === section && (this.indent < 0 || this.indent === depth);
  }

  /** Gives a line its place; false where the file cannot be read in pieces. */
  addLine(line: TextLine): boolean {
    if (blankOrComment.test(line.text)) {
      this.extendLast(line);
      return true;
    }
    const head = line.indent === Infinity ? '' : line.text.slice(line.indent, line.indent + longestKey);
    const listEntry = this.section?.shape === 'list' && dashAhead.test(head);
    if (line.indent < this.base) return false;
    if (line.indent === this.base && !listEntry) return this.addTopLevelLine(line, head);
    if (this.section) return this.addSectionLine(line, head, this.section);
    return this.extendLast(line);
  }

  /** A line in the column of the outermost keys. */
  private addTopLevelLine(line: TextLine, head: string): boolean {
    if (this.unsure || documentMark.test(head) || explicitKey.test(head)) return false;
    if (dashAhead.test(head) || closingBracket.test(head)) return this.extendLast(line);
    const key = keyAhead(head);
    if (key === undefined) {
      // An open section stays open: a merge marker or a broken line does not end it.
      if (this.ranges.length === 0 && !mergeMarker.test(head)) return false;
      this.addStray(line);
      return true;
    }
    this.ranges.push({ start: line.start, end: line.nextStart });
    const known = this.sections.find((section) => section.key === key.slice(0, -1).trimEnd());
    const open = blankOrComment.test(line.text.slice(line.indent + key.length));
    this.section = known && open ? known : undefined;
    this.indent = -1;
    this.first = this.ranges.length;
    this.remainder = undefined;
    return true;
  }

  /** An indented line while a section is open, or an entry of a list in the column of its key. */
  private addSectionLine(line: TextLine, head: string, section: EntryCollection): boolean {
    const begins = section.shape === 'list' ? dashAhead.test(head) : keyAhead(head) !== undefined;
    if (this.indent < 0) {
      if (!begins) {
        // Either the section's value is no block at all, or a half-typed line stands before its first entry.
        if (otherValue.test(head)) return false;
        this.unsure = true;
        this.addStray(line, section);
        return true;
      }
      this.indent = line.indent;
      this.unsure = false;
    }
    if (begins && line.indent < this.indent && this.isFirstEntryMisindented(line, section))
      this.restart(line, section);
    if (line.indent > this.indent) return this.extendLast(line);
    if (line.indent === this.indent) {
      if (begins) {
        this.ranges.push({ start: line.start, end: line.nextStart, section });
        return true;
      }
      if (explicitKey.test(head)) return false;
      if (dashAhead.test(head) || closingBracket.test(head)) return this.extendLast(line);
    }
    this.addStray(line, section);
    return true;
  }

  /**
   * Whether not this line but the beginning of the section is badly indented: a stray line, or one entry while others
   * stand as far left as this one.
   */
  private isFirstEntryMisindented(
    { indent: depth, nextStart: next }: TextLine,
    { shape }: EntryCollection,
  ): boolean {
    const entries = this.ranges.slice(this.first, this.first + 20);
    if (entries[0]?.stray) return true;
    const lonely = entries.filter(({ stray }) => !stray).length === 1;
    // An entry `id:` whose keys stand in the same column as itself.
    const emptied = shape === 'map' && /:\s*$/.test(this.endOf(entries[0]));
    if (!lonely && !emptied) return false;
    this.remainder =
      this.remainder && next <= this.remainder.end ? this.remainder : this.lookAhead(next, shape);
    return (this.remainder.lastEntry.get(depth) ?? -1) >= next;
  }

  /** The lines from an offset to the next outermost key that may begin an entry. */
  private lookAhead(from: number, shape: EntryCollection['shape']): SectionRemainder {
    const begins = shape === 'list' ? /^-[ \t]/ : /^[^\s#-]/;
    const lastEntry = new Map<number, number>();
    for (const { start, text, indent } of linesOf(this.text, from)) {
      if (/^[^\s#-]/.test(text)) return { end: start, lastEntry };
      if (indent !== Infinity && begins.test(text.slice(indent, indent + 2))) lastEntry.set(indent, start);
    }
    return { end: this.text.length, lastEntry };
  }

  /** The last characters of a piece, few enough to be looked at for each line below it. */
  private endOf(piece: ChunkRange | undefined): string {
    return piece ? this.text.slice(Math.max(piece.start, piece.end - longestKey), piece.end) : '';
  }

  /** Makes everything in the section so far stray lines, and this line for its first entry. */
  private restart(line: TextLine, section: EntryCollection): void {
    const start = this.ranges[this.first]!.start;
    this.ranges.length = this.first;
    this.ranges.push({ start, end: line.start, section, stray: true });
    this.indent = line.indent;
  }

  /** The line belongs to the piece before it; false where there is none yet but the line says something. */
  private extendLast(line: TextLine): boolean {
    const last = this.ranges.at(-1);
    if (last) last.end = line.nextStart;
    return last !== undefined;
  }

  /** Lines that belong to nothing are one piece as long as they follow each other: one mistake, one problem. */
  private addStray(line: TextLine, section?: EntryCollection): void {
    if (this.ranges.at(-1)?.stray) this.extendLast(line);
    else
      this.ranges.push({
        start: line.start,
        end: line.nextStart,
        stray: true,
        ...(section && { section }),
      });
  }
}

import { Parser, type CST } from 'yaml';

/** Where a block map or list stands: its column in the text, and the one that it gets. */
export interface Level {
  readonly old: number;
  readonly now: number;
}

/** A word, mark or comment of a YAML text: all that is not space. */
export interface Atom {
  readonly type: CST.Token['type'] | CST.SourceToken['type'] | 'block-body';
  readonly source: string;
  readonly start: number;
  /** Spaces before it where it is the first of its line, brackets and comments apart. */
  readonly indent: number;
  /** The blocks that it stands in, the outermost first. */
  readonly levels: readonly Level[];
}

/** Spaces by which a block is indented deeper than the one that it stands in. */
export const step = 2;

/**
 * Cuts a text into its atoms. Undefined where it is no single plain document: with errors, directives, document ends
 * or keys marked by `?`, nothing is sure enough to be moved.
 */
export function atomsOf(text: string): Atom[] | undefined {
  const cutter = new Cutter();
  let documents = 0;
  for (const token of new Parser().parse(text)) {
    if (token.type === 'document') {
      documents++;
      cutter.document(token);
    } else cutter.marks([token], outside);
  }
  // What was left out would be lost.
  return documents === 1 && cutter.sure && cutter.at === text.length ? cutter.atoms : undefined;
}

function isGap(type: string): boolean {
  return type === 'space' || type === 'newline' || type === 'byte-order-mark';
}

interface Within {
  readonly levels: readonly Level[];
  readonly indent: number;
}

const outside: Within = { levels: [], indent: 0 };

/** Marks after which nothing is sure. */
const refused: ReadonlySet<string> = new Set([
  'error',
  'explicit-key-ind',
  'directive',
  'directive-line',
  'doc-end',
]);

const scalars: ReadonlySet<string> = new Set([
  'alias',
  'scalar',
  'single-quoted-scalar',
  'double-quoted-scalar',
]);

class Cutter {
  readonly atoms: Atom[] = [];
  /** False once something was met that is not to be moved. */
  sure = true;
  at = 0;

  document({ start, value, end }: CST.Document): void {
    this.marks(start, outside);
    if (value) this.token(value, outside);
    this.marks(end, outside);
  }

  private token(token: CST.Token, within: Within): void {
    if (token.type === 'block-map' || token.type === 'block-seq') {
      this.block(token, within);
    } else if (token.type === 'flow-collection') {
      this.marks([token.start], within);
      for (const item of token.items) this.item(item, within, within);
      this.marks(token.end, within);
    } else if (token.type === 'block-scalar') {
      this.marks(token.props, within);
      this.add('block-body', token.source, within);
    } else if (scalars.has(token.type) && 'source' in token) {
      this.add(token.type, token.source, within);
      this.marks('end' in token ? token.end : [], within);
    } else {
      this.sure = false;
    }
  }

  private block(token: CST.BlockMap | CST.BlockSequence, { levels, indent }: Within): void {
    const own: Within = { levels: [...levels, { old: token.indent, now: indent }], indent };
    for (const item of token.items) this.item(item, own, { ...own, indent: indent + step });
  }

  private item({ start, key, sep, value }: CST.CollectionItem, own: Within, below: Within): void {
    this.marks(start, own);
    if (key) this.token(key, own);
    this.marks(sep, below);
    if (value) this.token(value, below);
  }

  marks(tokens: readonly CST.Token[] | undefined, within: Within): void {
    for (const token of tokens ?? []) {
      if (!('source' in token) || refused.has(token.type)) {
        this.sure = false;
      } else if (isGap(token.type)) {
        this.at += token.source.length;
      } else {
        this.add(token.type, token.source, within);
      }
    }
  }

  private add(type: Atom['type'], source: string, { levels, indent }: Within): void {
    if (source !== '') this.atoms.push({ type, source, start: this.at, indent, levels });
    this.at += source.length;
  }
}

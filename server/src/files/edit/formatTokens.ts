import { Parser, type CST } from 'yaml';

/** Where a block map or list stands: its column in the text, and the one that it gets. */
export interface IndentLevel {
  readonly old: number;
  readonly now: number;
}

/** A word, mark or comment of a YAML text: all that is not space. */
export interface FormatToken {
  readonly type: CST.Token['type'] | CST.SourceToken['type'] | 'block-body';
  readonly source: string;
  readonly start: number;
  /** Spaces to put before it where it is the first of its line, unless it is a comment or inside brackets. */
  readonly indent: number;
  /** The blocks that it stands in, the outermost first. */
  readonly levels: readonly IndentLevel[];
}

/** Spaces by which a block is indented deeper than the one that it stands in. */
export const indentStep = 2;

/**
 * Cuts a text into tokens. Undefined where it is not a single plain document: with errors, directives, document ends or
 * keys marked by `?`, it is not certain what may be moved.
 */
export function tokenize(text: string): FormatToken[] | undefined {
  const tokenizer = new Tokenizer();
  let documents = 0;
  for (const token of new Parser().parse(text)) {
    if (token.type === 'document') {
      documents++;
      tokenizer.document(token);
    } else tokenizer.marks([token], topLevel);
  }
  // Text that is in no token would be lost.
  return documents === 1 && tokenizer.supported && tokenizer.at === text.length
    ? tokenizer.tokens
    : undefined;
}

function isWhitespace(type: string): boolean {
  return type === 'space' || type === 'newline' || type === 'byte-order-mark';
}

interface TokenContext {
  readonly levels: readonly IndentLevel[];
  readonly indent: number;
}

const topLevel: TokenContext = { levels: [], indent: 0 };

/** Tokens of texts that are not formatted. */
const unsupportedTokens: ReadonlySet<string> = new Set([
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

class Tokenizer {
  readonly tokens: FormatToken[] = [];
  /** False once a token was met that must not be moved. */
  supported = true;
  at = 0;

  document({ start, value, end }: CST.Document): void {
    this.marks(start, topLevel);
    if (value) this.token(value, topLevel);
    this.marks(end, topLevel);
  }

  private token(token: CST.Token, within: TokenContext): void {
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
      this.supported = false;
    }
  }

  private block(token: CST.BlockMap | CST.BlockSequence, { levels, indent }: TokenContext): void {
    const own: TokenContext = { levels: [...levels, { old: token.indent, now: indent }], indent };
    for (const item of token.items) this.item(item, own, { ...own, indent: indent + indentStep });
  }

  private item({ start, key, sep, value }: CST.CollectionItem, own: TokenContext, below: TokenContext): void {
    this.marks(start, own);
    if (key) this.token(key, own);
    this.marks(sep, below);
    if (value) this.token(value, below);
  }

  marks(tokens: readonly CST.Token[] | undefined, within: TokenContext): void {
    for (const token of tokens ?? []) {
      if (!('source' in token) || unsupportedTokens.has(token.type)) {
        this.supported = false;
      } else if (isWhitespace(token.type)) {
        this.at += token.source.length;
      } else {
        this.add(token.type, token.source, within);
      }
    }
  }

  private add(type: FormatToken['type'], source: string, { levels, indent }: TokenContext): void {
    if (source !== '') this.tokens.push({ type, source, start: this.at, indent, levels });
    this.at += source.length;
  }
}

import { SymbolKind, type DocumentSymbol, type DocumentSymbolParams } from 'vscode-languageserver';
import type { Span } from '../../files/yaml/problem.ts';
import { entryOf, type Tree } from '../../files/yaml/tree.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import { fileAt, type FileServices } from '../documents/fileServices.ts';
import type { PositionConverter } from '../documents/positionConverter.ts';

export type DocumentSymbolNeeds = Pick<FileServices, 'workspace' | 'positions'>;

/** The outline of a file: segments and techniques, sessions with their blocks, runs, the techniques of a pool, or a week's keys. */
export function documentSymbolProvider({
  workspace,
  positions,
}: DocumentSymbolNeeds): (params: DocumentSymbolParams) => DocumentSymbol[] {
  return ({ textDocument }) => {
    const file = fileAt(workspace, textDocument.uri);
    return file ? new Outline(positions, file).symbols() : [];
  };
}

interface Node {
  readonly tree: Tree;
  /** Added to offsets inside the tree to get offsets of the file. */
  readonly shift: number;
}

class Outline {
  private readonly positions: PositionConverter;
  private readonly file: ProjectFile;

  constructor(positions: PositionConverter, file: ProjectFile) {
    this.positions = positions;
    this.file = file;
  }

  /** Every key of the file, with its entries below it. Half-typed text is part of the outline, too. */
  symbols(): DocumentSymbol[] {
    const { tree } = this.file.reading;
    return tree.entries.map(({ key, value, shift }) => {
      const name = String(key.value);
      const span = moved(key, shift);
      const children = value ? this.below(name, { tree: value, shift }) : [];
      return this.symbol(name, SymbolKind.Namespace, span, value ? moved(value, shift) : span, { children });
    });
  }

  private below(key: string, node: Node): DocumentSymbol[] {
    if (key === 'segments')
      return items(node).map((item) => this.named(item, 'id', SymbolKind.Event, this.uses(item)));
    if (key === 'techniques') return this.techniques(node);
    if (key === 'sessions')
      return items(node).map((item) => this.named(item, 'start', SymbolKind.Object, this.blocks(item)));
    if (key === 'runs') return this.runs(node);
    return [];
  }

  private runs(node: Node): DocumentSymbol[] {
    return items(node).map((item) =>
      this.named(item, text(child(item, 'start')) === undefined ? 'date' : 'start', SymbolKind.Object, []),
    );
  }

  private techniques({ tree, shift }: Node): DocumentSymbol[] {
    if (tree.type !== 'map') return [];
    return tree.entries.map(({ key, value, shift: inner }) => {
      const span = moved(key, shift + inner);
      const full = value ? moved(value, shift + inner) : span;
      const detail = value && this.detailOf({ tree: value, shift });
      return this.symbol(String(key.value), SymbolKind.Function, span, full, { detail });
    });
  }

  /** A technique's name, or what a pool says of it in short. */
  private detailOf(technique: Node): string | undefined {
    if (this.file.kind !== 'pool') return text(child(technique, 'name'));
    const runners = text(child(technique, 'runners'));
    return runners && `${runners} runners`;
  }

  private uses(segment: Node): DocumentSymbol[] {
    const list = child(segment, 'techniques');
    return list
      ? items(list).map((item) =>
          item.tree.type === 'scalar'
            ? this.leaf(item, text(item) ?? '?', SymbolKind.Function)
            : this.named(item, 'use', SymbolKind.Function, []),
        )
      : [];
  }

  private blocks(practiceSession: Node): DocumentSymbol[] {
    const list = child(practiceSession, 'blocks');
    return list
      ? items(list).map((item) =>
          this.named(item, child(item, 'technique') ? 'technique' : 'segment', SymbolKind.Field, []),
        )
      : [];
  }

  /** An entry whose name is the value of one of its keys. */
  private named(node: Node, key: string, kind: SymbolKind, children: DocumentSymbol[]): DocumentSymbol {
    const name = child(node, key);
    const span = name ? moved(name.tree, name.shift) : firstLine(this.file, moved(node.tree, node.shift));
    return this.symbol(text(name) ?? '?', kind, span, moved(node.tree, node.shift), {
      detail: text(child(node, 'name')),
      children,
    });
  }

  private leaf(node: Node, name: string, kind: SymbolKind): DocumentSymbol {
    const span = moved(node.tree, node.shift);
    return this.symbol(name, kind, span, span, {});
  }

  private symbol(
    name: string,
    kind: SymbolKind,
    selection: Span,
    full: Span,
    { detail, children = [] }: { detail?: string | undefined; children?: DocumentSymbol[] },
  ): DocumentSymbol {
    const whole = { start: Math.min(selection.start, full.start), end: Math.max(selection.end, full.end) };
    return {
      // Editors reject an outline with an empty name.
      name: name.trim() || '?',
      ...(detail !== undefined && { detail }),
      kind,
      range: this.positions.range(this.file.uri, whole),
      selectionRange: this.positions.range(this.file.uri, selection),
      children,
    };
  }
}

function moved(span: Span, by: number): Span {
  return { start: span.start + by, end: span.end + by };
}

function items({ tree, shift }: Node): Node[] {
  if (tree.type !== 'list') return [];
  return tree.items.flatMap(({ value, shift: inner }) =>
    value ? [{ tree: value, shift: shift + inner }] : [],
  );
}

function child({ tree, shift }: Node, key: string): Node | undefined {
  const found = entryOf(tree, key);
  return found?.value && { tree: found.value, shift: shift + found.shift };
}

function text(node: Node | undefined): string | undefined {
  const tree = node?.tree;
  return tree?.type === 'scalar' && tree.value !== null ? String(tree.value) : undefined;
}

function firstLine(file: ProjectFile, span: Span): Span {
  const newline = file.reading.text.indexOf('\n', span.start);
  return {
    start: span.start,
    end: newline < 0 ? span.end : Math.max(span.start, Math.min(span.end, newline)),
  };
}

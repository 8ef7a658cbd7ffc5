import {
  CompletionItemKind,
  MarkupKind,
  type CompletionItem,
  type CompletionParams,
} from 'vscode-languageserver';
import { keysAt, schemaAt, type Schema } from '../../files/schema/schema.ts';
import { toValue } from '../../files/yaml/value.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import { cursorContextAt, type InsertionPoint } from './cursorContext.ts';
import { loggedTimes, type LoggedTimesNeeds } from './loggedTimes.ts';
import { entriesAtEndOfLog } from './endOfLog.ts';
import { entityKindAt } from './identifiers.ts';
import { nameCandidates } from './nameCandidates.ts';
import { schemaSummary, schemaText } from './schemaText.ts';
import { snippetsAt, type SnippetNeeds } from './snippets.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import { fileAt } from '../documents/fileServices.ts';
import type { PositionConverter } from '../documents/positionConverter.ts';

export interface CompletionNeeds extends SnippetNeeds, LoggedTimesNeeds {
  readonly positions: PositionConverter;
  readonly client: Pick<ClientFeatures, 'snippets' | 'labelDetails'>;
}

/**
 * What could be written at the cursor: at the end of a log a new entry first, then keys of the schema, ids of the route,
 * words of a closed list, whole entries.
 */
export function completionProvider(needs: CompletionNeeds): (params: CompletionParams) => CompletionItem[] {
  return ({ textDocument, position }) => {
    const file = fileAt(needs.workspace, textDocument.uri);
    if (!file) return [];
    const offset = needs.positions.offset(file.uri, position);
    const { word, insertionPoints } = cursorContextAt(file, offset);
    const range = needs.positions.range(file.uri, word);
    const atCursor = insertionPoints
      .flatMap((insertionPoint): CompletionCandidate[] => [
        ...(insertionPoint.part === 'key'
          ? keyCandidates(needs, file, insertionPoint)
          : [
              ...loggedTimes(needs, file, insertionPoint, word),
              ...valueCandidates(needs, file, insertionPoint),
            ]),
        ...snippetsAt(needs, file, insertionPoint),
      ])
      .map(({ newText, ...item }) => ({ ...item, textEdit: { range, newText: newText ?? item.label } }));
    return [...entriesAtEndOfLog(needs, file, offset), ...atCursor].map((item, index) => ({
      ...item,
      // Many editors show the detail of the selected line only.
      ...(needs.client.labelDetails &&
        item.detail !== undefined && { labelDetails: { description: item.detail } }),
      sortText: String(index).padStart(4, '0'),
    }));
  };
}

/** A completion, and the text that replaces the word where that is not its label. */
type CompletionCandidate = CompletionItem & { readonly newText?: string };

function keyCandidates(
  needs: CompletionNeeds,
  file: ProjectFile,
  insertionPoint: InsertionPoint,
): CompletionCandidate[] {
  const value = toValue(insertionPoint.tree);
  const candidates = keysAt(file.kind, insertionPoint.path, value)
    .filter(([key]) => !insertionPoint.existingNames.has(key))
    .map(([key, schema]): CompletionCandidate => {
      const detail = schemaSummary(schema);
      return {
        label: key,
        kind: CompletionItemKind.Property,
        ...(detail !== undefined && { detail }),
        documentation: { kind: MarkupKind.Markdown, value: schemaText(key, schema) },
        newText: insertionPoint.needsColon ? key + colonAfter(schema, insertionPoint) : key,
      };
    });
  return [
    ...candidates,
    ...idCandidates(needs, file, insertionPoint, [...insertionPoint.path, 'any']),
  ].filter(({ label }) => !insertionPoint.existingNames.has(label));
}

/** A block value starts on the line below its key, and a space at the end of the key's line would remain there. */
function colonAfter(schema: Schema, { inFlow }: InsertionPoint): string {
  const below = !inFlow && (schema.type === 'object' || schema.type === 'array');
  return below ? ':' : ': ';
}

function valueCandidates(
  needs: CompletionNeeds,
  file: ProjectFile,
  insertionPoint: InsertionPoint,
): CompletionCandidate[] {
  const schema = schemaAt(file.kind, insertionPoint.path, toValue(insertionPoint.tree));
  const closed = schema?.enum ?? (schema?.type === 'boolean' ? [true, false] : []);
  const key = insertionPoint.path.findLast((step) => typeof step === 'string') ?? '';
  const documentation = schema && { kind: MarkupKind.Markdown, value: schemaText(String(key), schema) };
  const listed = closed.map((word): CompletionCandidate => ({
    label: String(word),
    kind: CompletionItemKind.EnumMember,
    ...(wordMeaning(schema, word) ?? (word === schema?.default ? defaultDetail : {})),
    ...(documentation && { documentation }),
  }));
  return [
    ...listed,
    ...defaultCandidates(schema, documentation),
    ...idCandidates(needs, file, insertionPoint, insertionPoint.path),
  ];
}

const defaultDetail = { detail: 'what holds where it is left out' };

/** The schema's explanation of one word of a closed list: the part `word: meaning;` of its description. */
function wordMeaning(schema: Schema | undefined, word: unknown): { readonly detail: string } | undefined {
  const parts = (schema?.description ?? '').replace(/\.$/, '').split('; ');
  const explanation = parts.find((part) => part.startsWith(`${String(word)}: `));
  return explanation === undefined ? undefined : { detail: explanation.slice(String(word).length + 2) };
}

/** The default number or text of a key, as a value to start from. */
function defaultCandidates(
  schema: Schema | undefined,
  documentation: CompletionItem['documentation'],
): CompletionCandidate[] {
  const value = schema?.default;
  if (schema?.enum || (typeof value !== 'number' && typeof value !== 'string')) return [];
  const newText = typeof value === 'string' ? JSON.stringify(value) : String(value);
  const item = { label: String(value), kind: CompletionItemKind.Value, newText, ...defaultDetail };
  return [documentation ? { ...item, documentation } : item];
}

function idCandidates(
  needs: CompletionNeeds,
  file: ProjectFile,
  insertionPoint: InsertionPoint,
  path: InsertionPoint['path'],
): CompletionCandidate[] {
  const entityKind = entityKindAt(file.kind, path, insertionPoint.part);
  // Where a technique is defined, its id is new, so no known id is offered.
  if (!entityKind || (file.kind === 'route' && (insertionPoint.part === 'key' || path.at(-1) === 'id')))
    return [];
  const own = file.kind === 'route' && path[0] === 'techniques' ? path[1] : undefined;
  return nameCandidates(needs.workspace, file, entityKind, insertionPoint.part)
    .filter(({ id }) => !insertionPoint.existingNames.has(id) && id !== own)
    .map(({ id, name = id, note, kind }): CompletionCandidate => ({
      label: id,
      kind,
      // A name that is the id once more would say nothing.
      ...(name !== id ? { detail: name } : note !== undefined && { detail: note }),
      ...(note !== undefined && { documentation: { kind: MarkupKind.Markdown, value: note } }),
      ...(insertionPoint.part === 'key' && insertionPoint.needsColon && { newText: `${id}: ` }),
    }));
}

import {
  CompletionItemKind,
  MarkupKind,
  type CompletionItem,
  type CompletionParams,
} from 'vscode-languageserver';
import { keysAt, schemaAt, type Schema } from '../../files/schema/schema.ts';
import { toValue } from '../../files/yaml/value.ts';
import type { AnyFile } from '../../workspace/project.ts';
import { cursorAt, type Gap } from './cursorContext.ts';
import { loggedTimes } from './loggedTimes.ts';
import { thingAt } from './identifiers.ts';
import { namesOf } from './nameCandidates.ts';
import { schemaText } from './schemaText.ts';
import type { Session } from '../server/session.ts';
import { snippetsAt } from './snippets.ts';

/** What could be written at the cursor: keys of the schema, ids of the route, words of a closed list, whole entries. */
export function completion(session: Session, { textDocument, position }: CompletionParams): CompletionItem[] {
  const file = session.file(textDocument.uri);
  if (!file) return [];
  const { word, gaps } = cursorAt(file, session.places.offset(file.uri, position));
  const range = session.places.range(file.uri, word);
  return gaps
    .flatMap((gap) => [
      ...(gap.part === 'key'
        ? keys(session, file, gap)
        : [...loggedTimes(session, file, gap, word), ...words(session, file, gap)]),
      ...snippetsAt(session, file, gap),
    ])
    .map(({ newText, ...item }, index) => ({
      ...item,
      // Many editors show the detail of the chosen line only.
      ...(session.client.labelDetails &&
        item.detail !== undefined && { labelDetails: { description: item.detail } }),
      textEdit: { range, newText: newText ?? item.label },
      sortText: String(index).padStart(4, '0'),
    }));
}

/** A completion, and the text that it puts in place of the word where that is not its label. */
type Offer = CompletionItem & { readonly newText?: string };

function keys(session: Session, file: AnyFile, gap: Gap): Offer[] {
  const value = toValue(gap.tree);
  const offers = keysAt(file.kind, gap.path, value)
    .filter(([key]) => !gap.taken.has(key))
    .map(([key, schema]): Offer => ({
      label: key,
      kind: CompletionItemKind.Property,
      ...(schema.title !== undefined && { detail: schema.title }),
      documentation: { kind: MarkupKind.Markdown, value: schemaText(key, schema) },
      newText: gap.colon ? key + colonAfter(schema, gap) : key,
    }));
  return [...offers, ...ids(session, file, gap, [...gap.path, 'any'])].filter(
    ({ label }) => !gap.taken.has(label),
  );
}

/** A block goes on below its key, and a space left at the end of the line would stay there. */
function colonAfter(schema: Schema, { flow }: Gap): string {
  const below = !flow && (schema.type === 'object' || schema.type === 'array');
  return below ? ':' : ': ';
}

function words(session: Session, file: AnyFile, gap: Gap): Offer[] {
  const schema = schemaAt(file.kind, gap.path, toValue(gap.tree));
  const closed = schema?.enum ?? (schema?.type === 'boolean' ? [true, false] : []);
  const key = gap.path.findLast((step) => typeof step === 'string') ?? '';
  const documentation = schema && { kind: MarkupKind.Markdown, value: schemaText(String(key), schema) };
  const listed = closed.map((word): Offer => ({
    label: String(word),
    kind: CompletionItemKind.EnumMember,
    ...(wordMeaning(schema, word) ?? (word === schema?.default ? leftOut : {})),
    ...(documentation && { documentation }),
  }));
  return [...listed, ...defaults(schema, documentation), ...ids(session, file, gap, gap.path)];
}

const leftOut = { detail: 'what holds where it is left out' };

/** What the schema says of one word of a closed list: `word: meaning;` in its description. */
function wordMeaning(schema: Schema | undefined, word: unknown): { readonly detail: string } | undefined {
  const parts = (schema?.description ?? '').replace(/\.$/, '').split('; ');
  const meant = parts.find((part) => part.startsWith(`${String(word)}: `));
  return meant === undefined ? undefined : { detail: meant.slice(String(word).length + 2) };
}

/** The number or text that holds where none is written, to begin from. */
function defaults(schema: Schema | undefined, documentation: CompletionItem['documentation']): Offer[] {
  const value = schema?.default;
  if (schema?.enum || (typeof value !== 'number' && typeof value !== 'string')) return [];
  const newText = typeof value === 'string' ? JSON.stringify(value) : String(value);
  const item = { label: String(value), kind: CompletionItemKind.Value, newText, ...leftOut };
  return [documentation ? { ...item, documentation } : item];
}

function ids(session: Session, file: AnyFile, gap: Gap, path: Gap['path']): Offer[] {
  const thing = thingAt(file.kind, path, gap.part);
  // A technique's own key is where its id is made up.
  if (!thing || (file.kind === 'route' && (gap.part === 'key' || path.at(-1) === 'id'))) return [];
  const own = file.kind === 'route' && path[0] === 'techniques' ? path[1] : undefined;
  return namesOf(session, file, thing, gap.part)
    .filter(({ id }) => !gap.taken.has(id) && id !== own)
    .map(({ id, name, note, kind }): Offer => ({
      label: id,
      kind,
      ...(name !== undefined && { detail: name }),
      ...(note !== undefined && { documentation: { kind: MarkupKind.Markdown, value: note } }),
      ...(gap.part === 'key' && gap.colon && { newText: `${id}: ` }),
    }));
}

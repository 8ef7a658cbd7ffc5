import { entryToYaml, toFlowYaml } from '../../files/edit/flowYaml.ts';
import { type FileKind, fileKinds } from '../../files/fileKind.ts';
import { type KeyMeaning, type KeyPlace, unitOf } from '../../files/schema/keyMeanings.ts';
import type { Schema } from '../../files/schema/schema.ts';
import { describeTypes } from '../../files/schema/schemaWording.ts';
import { formatList } from '../../text/format.ts';
import { facts, heading, type Page, type PagePart, prose } from '../page.ts';

/** What a key means, at each place where it means something else. */
export function keyPage(meanings: readonly KeyMeaning[]): Page {
  return { parts: meanings.flatMap(meaningParts) };
}

/** The same as data. */
export function keyJson(key: string, meanings: readonly KeyMeaning[]): unknown {
  return {
    key,
    meanings: meanings.map(({ schema, required, places }) => ({
      title: schema.title ?? null,
      description: schema.description ?? null,
      places: places.map(({ kind, path }) => ({ file: kind, at: path })),
      required,
      type: typesOf(schema),
      unit: unitOf(schema) ?? null,
      minimum: schema.minimum ?? schema.exclusiveMinimum ?? null,
      maximum: schema.maximum ?? null,
      oneOf: schema.enum ?? null,
      default: schema.default ?? null,
      examples: schema.examples ?? [],
    })),
  };
}

/** The keys of each kind of file. */
export function keyListPage(byKind: readonly (readonly [FileKind, readonly string[]])[]): Page {
  return {
    parts: [
      ...byKind.flatMap(([kind, keys]) => [
        heading(`${kind[0]!.toUpperCase()}${kind.slice(1)} file`),
        prose(keys.join(', ')),
      ]),
      prose('To see what one of them means: routewright explain KEY'),
    ],
  };
}

type Row = [label: string, text: string];

function meaningParts({ key, schema, required, places }: KeyMeaning): PagePart[] {
  const files = [...new Set(places.map(({ kind }) => fileName(kind)))];
  // A key at the top of a file is about the file itself.
  const owners = [...new Set(places.map(({ owner }) => owner))].filter(
    (owner) => !fileKinds.some((kind) => fileName(kind) === owner),
  );
  const unit = unitOf(schema);
  const rows: Row[] = [
    ['stands at', formatList(places.map((place) => placeText(place, files.length > 1)))],
    ['type', typeText(schema)],
    ...(unit === undefined ? [] : [['unit', unit] as Row]),
    ...limitRows(schema),
    ...leftOutRows(schema, required),
    ...(schema.examples ?? []).map((value, at): Row => [
      at === 0 ? 'example' : 'or',
      entryToYaml(key, value),
    ]),
  ];
  return [
    heading(`${key} (${[...(owners.length > 3 ? [] : owners), ...files].join(', ')})`),
    ...(schema.description === undefined ? [] : [prose(schema.description.replaceAll('`', ''))]),
    facts(rows),
  ];
}

function typeText(schema: Schema): string {
  return schema.enum ? `one of ${formatList(schema.enum.map(String), 'or')}` : describeTypes(typesOf(schema));
}

function typesOf({ type, enum: words }: Schema): readonly string[] {
  if (type === undefined) return words ? ['string'] : ['string', 'number'];
  return typeof type === 'string' ? [type] : type;
}

/** Bounds that no value of a route or a log comes near are not worth a line. */
const unbounded = 999_999;

function limitRows({ minimum, exclusiveMinimum, maximum }: Schema): Row[] {
  const words = [
    ...(minimum !== undefined && minimum > -unbounded ? [`at least ${minimum}`] : []),
    ...(exclusiveMinimum === undefined ? [] : [`above ${exclusiveMinimum}`]),
    ...(maximum !== undefined && maximum < unbounded ? [`at most ${maximum}`] : []),
  ];
  return words.length === 0 ? [] : [['range', words.join(', ')]];
}

function leftOutRows({ default: value }: Schema, required: boolean): Row[] {
  if (required) return [['left out', 'an error: it is required']];
  if (value === undefined) return [];
  const empty = typeof value === 'object' && value !== null && Object.keys(value).length === 0;
  return [['left out', empty ? 'none' : toFlowYaml(value)]];
}

function fileName(kind: FileKind): string {
  return `${kind} file`;
}

/** `techniques: ID: saves:`, with the kind of file where there are several. */
function placeText({ kind, path }: KeyPlace, severalKinds: boolean): string {
  const at = path.map((part) => (part === '-' ? '-' : `${part}:`)).join(' ');
  return severalKinds ? `${at} (${kind})` : at;
}

import { entryToYaml, toFlowYaml } from '../../files/edit/flowYaml.ts';
import type { FileKind } from '../../files/fileKind.ts';
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

/** The keys that may stand at the top of each kind of file and in its entries. */
export function keyListPage(byKind: readonly (readonly [FileKind, readonly string[]])[]): Page {
  return {
    parts: [
      ...byKind.flatMap(([kind, keys]) => [heading(`${fileName(kind)}`), prose(keys.join(', '))]),
      prose('What one of them means: routewright explain KEY'),
    ],
  };
}

function meaningParts({ key, schema, required, places }: KeyMeaning): PagePart[] {
  const kinds = [...new Set(places.map(({ kind }) => kind))];
  const files = kinds.map((kind) => fileName(kind).toLowerCase());
  const tops = ['route file', 'practice file', 'runs file', 'week file'];
  const owners = [...new Set(places.map(({ owner }) => owner))].filter((owner) => !tops.includes(owner));
  const unit = unitOf(schema);
  const examples = (schema.examples ?? []).map((value) => entryToYaml(key, value));
  const rows: [string, string][] = [
    ['stands at', formatList(places.map((place) => placeText(place, kinds.length > 1)))],
    [
      'type',
      schema.enum
        ? `one of ${formatList(schema.enum.map(String)).replace(' and ', ' or ')}`
        : describeTypes(typesOf(schema)),
    ],
    ...(unit === undefined ? [] : [['unit', unit] as [string, string]]),
    ...limitRows(schema),
    ...leftOutRows(schema, required),
    ...examples.map((example, at): [string, string] => [at === 0 ? 'example' : 'or', example]),
  ];
  return [
    heading(`${key} (${[...(owners.length > 3 ? [] : owners), ...files].join(', ')})`),
    ...(schema.description === undefined ? [] : [prose(schema.description.replaceAll('`', ''))]),
    facts(rows),
  ];
}

function typesOf({ type, enum: words }: Schema): readonly string[] {
  if (type === undefined) return words ? ['string'] : ['string', 'number'];
  return typeof type === 'string' ? [type] : type;
}

/** Bounds that no value of a route or a log comes near are not worth a line. */
const unbounded = 999_999;

function limitRows({ minimum, exclusiveMinimum, maximum }: Schema): [string, string][] {
  const words = [
    ...(minimum !== undefined && minimum > -unbounded ? [`at least ${minimum}`] : []),
    ...(exclusiveMinimum === undefined ? [] : [`above ${exclusiveMinimum}`]),
    ...(maximum !== undefined && maximum < unbounded ? [`at most ${maximum}`] : []),
  ];
  return words.length === 0 ? [] : [['range', words.join(', ')]];
}

function leftOutRows({ default: value }: Schema, required: boolean): [string, string][] {
  if (required) return [['left out', 'never: it has to be there']];
  if (value === undefined) return [];
  const empty = typeof value === 'object' && value !== null && Object.keys(value).length === 0;
  return [['left out', empty ? 'none' : toFlowYaml(value)]];
}

function fileName(kind: FileKind): string {
  return kind === 'route' ? 'Route file' : `${kind[0]!.toUpperCase()}${kind.slice(1)} file`;
}

/** `techniques: ID: saves:`, with the kind of file where there are several. */
function placeText({ kind, path }: KeyPlace, severalKinds: boolean): string {
  const at = path.map((part) => (part === '-' ? '-' : `${part}:`)).join(' ');
  return severalKinds ? `${at} (${kind})` : at;
}

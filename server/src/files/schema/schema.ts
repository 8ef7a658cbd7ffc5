import { schemas } from '../../generated/schemas.ts';
import type { FileKind } from '../fileKind.ts';
import type { Path } from '../yaml/tree.ts';

/** The parts of JSON Schema (draft-07) that our schemas use and that the features read. */
export interface Schema {
  readonly $ref?: string;
  readonly allOf?: readonly Schema[];
  readonly if?: Schema;
  readonly then?: Schema;
  readonly else?: Schema;
  readonly title?: string;
  readonly description?: string;
  readonly type?: string | readonly string[];
  readonly enum?: readonly (string | number)[];
  readonly default?: unknown;
  readonly examples?: readonly unknown[];
  readonly required?: readonly string[];
  readonly properties?: Readonly<Record<string, Schema | boolean>>;
  readonly patternProperties?: Readonly<Record<string, Schema | boolean>>;
  readonly additionalProperties?: Schema | boolean;
  readonly propertyNames?: Schema;
  readonly items?: Schema;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly pattern?: string;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
}

const schemasByName = schemas as unknown as Readonly<
  Record<string, Schema & { definitions?: Record<string, Schema> }>
>;
const referencePattern = /^(?:(\w+)\.schema\.json)?#\/definitions\/(\w+)$/;

/** The schema of a whole file. */
export function schemaOf(kind: FileKind): ResolvedSchema {
  return { schema: schemasByName[kind]!, file: kind };
}

/** A definition that several kinds share, by name. */
export function commonSchema(name: string): Schema {
  return schemasByName.common?.definitions?.[name] ?? {};
}

/** A schema with its references merged in. */
export interface ResolvedSchema {
  readonly schema: Schema;
  /** Name of the schema file it stands in, for references inside it. */
  readonly file: string;
}

/** A schema with its reference and its `allOf` merged in; what is written at the place itself wins. */
export function resolve({ schema, file }: ResolvedSchema): ResolvedSchema {
  const parts = [
    ...(schema.$ref === undefined ? [] : [{ $ref: schema.$ref }]),
    ...(schema.allOf ?? []),
  ] as Schema[];
  let merged: ResolvedSchema = { schema, file };
  for (const part of parts) {
    const match = referencePattern.exec(part.$ref ?? '');
    if (!match) continue;
    const target = match[1] ?? file;
    const found = schemasByName[target]?.definitions?.[match[2]!];
    if (!found) continue;
    const inner = resolve({ schema: found, file: target });
    merged = { schema: { ...inner.schema, ...merged.schema }, file: inner.file };
  }
  return merged;
}

/** `then` or `else` of a schema, chosen by the keys that the value has. */
function conditionalBranches(within: ResolvedSchema, value: unknown): ResolvedSchema[] {
  const { schema, file } = within;
  const wanted = schema.if?.required;
  if (!wanted) return [];
  const has = typeof value === 'object' && value !== null && wanted.every((key) => key in value);
  const chosen = has ? schema.then : schema.else;
  return chosen ? [{ schema: chosen, file }] : [];
}

function childSchema(
  within: ResolvedSchema,
  key: string | number,
  value: unknown,
): ResolvedSchema | undefined {
  const { schema, file } = within;
  if (typeof key === 'number') return schema.items && resolve({ schema: schema.items, file });
  const found: Schema = {};
  let any = false;
  for (const { schema: at } of [...conditionalBranches(within, value), within]) {
    const own = at.properties && Object.hasOwn(at.properties, key) ? at.properties[key] : undefined;
    const next = own ?? (typeof at.additionalProperties === 'object' ? at.additionalProperties : undefined);
    if (typeof next === 'object') {
      Object.assign(found, { ...next, ...found });
      any = true;
    }
  }
  return any ? resolve({ schema: found, file }) : undefined;
}

/**
 * The schema of the value at a path of a file, references merged in; undefined where the schema says nothing. `value`
 * is the file's value, for schemas that depend on it.
 */
export function schemaAt(kind: FileKind, path: Path, value?: unknown): Schema | undefined {
  let here: ResolvedSchema | undefined = { schema: schemasByName[kind]!, file: kind };
  let data = value;
  for (const key of path) {
    here = childSchema(here, key, data);
    if (!here) return undefined;
    data =
      typeof data === 'object' && data !== null ? (data as Record<string | number, unknown>)[key] : undefined;
  }
  return here.schema;
}

/** The keys a map may have at a path, with their schemas; without keys that another key rules out. */
export function keysAt(kind: FileKind, path: Path, value?: unknown): [string, Schema][] {
  const schema = schemaAt(kind, path, value);
  if (!schema) return [];
  const data = path.reduce<unknown>(
    (at, key) =>
      typeof at === 'object' && at !== null ? (at as Record<string | number, unknown>)[key] : undefined,
    value,
  );
  const branches = conditionalBranches({ schema, file: kind }, data).map(({ schema: chosen }) => chosen);
  const names = new Set([
    ...Object.keys(schema.properties ?? {}),
    ...branches.flatMap((b) => Object.keys(b.properties ?? {})),
  ]);
  const keys: [string, Schema][] = [];
  for (const name of names) {
    if (branches.some((b) => b.properties?.[name] === false)) continue;
    const found = schemaAt(kind, [...path, name], value);
    if (found) keys.push([name, found]);
  }
  return keys;
}

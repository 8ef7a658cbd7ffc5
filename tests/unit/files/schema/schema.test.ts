import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { schemas } from '../../../../server/src/generated/schemas.ts';
import { fileKinds, sectionsByKind } from '../../../../server/src/files/fileKind.ts';
import { sampleText } from '../../../helpers/poolFiles.ts';
import { commonSchema, keysAt, schemaAt, type Schema } from '../../../../server/src/files/schema/schema.ts';

const root = join(import.meta.dirname, '../../../..');
const names = ['common', ...fileKinds] as const;
const files = new Map(
  names.map((name) => [
    name,
    JSON.parse(readFileSync(join(root, `schemas/${name}.schema.json`), 'utf8')) as Schema & { $id: string },
  ]),
);
const ajv = new Ajv({
  allErrors: true,
  strictTypes: false,
  allowMatchingProperties: true,
  schemas: [...files.values()],
});

/** Every schema inside a schema, with its JSON pointer. */
function inside(schema: unknown, pointer = ''): [string, Schema][] {
  if (typeof schema !== 'object' || schema === null) return [];
  const own = schema as Record<string, unknown>;
  const maps = ['properties', 'definitions', 'patternProperties'].flatMap((word) =>
    Object.entries(own[word] ?? {}).flatMap(([key, inner]) => inside(inner, `${pointer}/${word}/${key}`)),
  );
  const singles = ['items', 'additionalProperties', 'then', 'else'].flatMap((word) =>
    inside(own[word], `${pointer}/${word}`),
  );
  return [[pointer, own], ...maps, ...singles];
}

const all = names.flatMap((name) =>
  inside(files.get(name)).map(([pointer, schema]) => ({ name, pointer, schema })),
);
const isProperty = (pointer: string) => /\/properties\/[^/]+$/.test(pointer);
/** The schema at a place with its reference followed, by ajv's own rules of resolution. */
function described({ schema }: { schema: Schema }): boolean {
  const target = schema.$ref ?? schema.allOf?.[0]?.$ref;
  const [, name, definition] = /^(?:(\w+)\.schema\.json)?#\/definitions\/(\w+)$/.exec(target ?? '') ?? [];
  const common = name === 'common' && definition ? commonSchema(definition) : undefined;
  return (
    [schema.title, schema.description, common?.title, common?.description].some(Boolean) ||
    (target !== undefined && !common)
  );
}

describe('the schemas', () => {
  it('are the ones the server was built with', () => {
    expect(JSON.parse(JSON.stringify(schemas))).toEqual(Object.fromEntries(files));
  });

  it('compile, and have a title or a description at every property', () => {
    for (const kind of fileKinds) expect(ajv.getSchema(files.get(kind)!.$id)).toBeTypeOf('function');
    const properties = all.filter(({ pointer }) => isProperty(pointer));
    expect(properties.length).toBeGreaterThan(70);
    // An `ended` under then or else refines the one beside it, which has the words.
    const bare = properties.filter(
      (each) => !described(each) && !/\/(?:then|else)\/properties\/ended$/.test(each.pointer),
    );
    expect(bare.map(({ name, pointer }) => `${name}${pointer}`)).toEqual([]);
  });

  it('have examples and defaults that fit', () => {
    let checked = 0;
    for (const { name, pointer, schema } of all) {
      const validate = ajv.getSchema(`${files.get(name)!.$id}#${pointer.replaceAll('^', '%5E')}`);
      const values = [...(schema.examples ?? []), ...('default' in schema ? [schema.default] : [])];
      for (const value of values) {
        checked++;
        expect(validate?.(value), `${name}${pointer}: ${JSON.stringify(value)}`).toBe(true);
      }
    }
    expect(checked).toBeGreaterThan(100);
  });

  it('state the defaults that the words speak of', () => {
    const stated = (kind: 'route' | 'week', ...path: (string | number)[]) => schemaAt(kind, path)?.default;
    expect(stated('route', 'restart')).toBe(10);
    expect(stated('route', 'segments', 0, 'survive')).toBe(1);
    expect(stated('route', 'techniques', 'a', 'practice', 'attempt')).toBe(5);
    expect(stated('week', 'confidence')).toBe(0.8);
    // Every list or map that may be left out says that it is empty then.
    const open = all.filter(
      ({ name, pointer, schema }) =>
        name !== 'common' &&
        isProperty(pointer) &&
        ['array'].includes(String(schema.type)) &&
        !('default' in schema),
    );
    expect(open.map(({ pointer }) => pointer)).toEqual([]);
  });

  it.each(fileKinds)('fit the %s file of the sample', (kind) => {
    const validate = ajv.getSchema(files.get(kind)!.$id)!;
    void validate(parse(sampleText(kind)));
    expect(validate.errors).toBeNull();
  });

  it('have a definition for every section', () => {
    for (const kind of fileKinds) {
      for (const { key, shape, entry } of sectionsByKind[kind]) {
        expect(schemaAt(kind, [key])?.type).toBe(shape === 'list' ? 'array' : 'object');
        expect(schemaAt(kind, [key, shape === 'list' ? 0 : 'any'])?.title?.toLowerCase()).toContain(entry);
      }
    }
  });
});

describe('schemaAt', () => {
  it('follows references, and lets what is written at the place win', () => {
    expect(schemaAt('route', ['target'])).toMatchObject({
      title: 'Target',
      examples: ['41:30'],
      pattern: commonSchema('time').pattern,
    });
    expect(schemaAt('route', ['techniques', 'any', 'needs', 0])?.title).toBe('Id');
    expect(schemaAt('route', [])?.title).toBe('Route file');
  });

  it('says nothing of what there is not', () => {
    for (const path of [
      ['nowhere'],
      ['game', 'x'],
      ['__proto__'],
      ['constructor'],
      ['segments', 0, 'toString'],
    ]) {
      expect(schemaAt('route', path)).toBeUndefined();
    }
  });

  it('goes by the value where the schema does', () => {
    const evening = { runs: [{ date: '2026-10-05', ended: {} }] };
    const run = { runs: [{ start: '2026-10-05', ended: {} }] };
    expect(schemaAt('runs', ['runs', 0, 'ended', 'why'], run)?.enum).toEqual(['miss', 'death', 'reset']);
    expect(schemaAt('runs', ['runs', 0, 'ended', 'harbor', 'reset'], evening)?.type).toBe('integer');
  });
});

describe('keysAt', () => {
  const keys = (...of: Parameters<typeof keysAt>) => keysAt(...of).map(([name]) => name);

  it('lists the keys of a map', () => {
    expect(keys('route', [])).toEqual(Object.keys(files.get('route')!.properties!));
    expect(keys('week', ['days'])).toEqual(['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun']);
    expect(keys('route', ['segments', 0, 'techniques', 0])).toContain('max_tries');
    expect(keys('route', ['game'])).toEqual([]);
    expect(keys('route', ['nowhere'])).toEqual([]);
  });

  it('leaves out what another key rules out', () => {
    expect(keys('runs', ['runs', 0], { runs: [{ date: '2026-10-05' }] })).not.toContain('total');
    expect(keys('runs', ['runs', 0], { runs: [{ start: '2026-10-05' }] })).not.toContain('finished');
    expect(keys('runs', ['runs', 0, 'ended'], { runs: [{ start: '2026-10-05', ended: {} }] })).toEqual([
      'at',
      'why',
      'by',
    ]);
  });
});

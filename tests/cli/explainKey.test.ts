import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { fileKinds } from '../../server/src/files/fileKind.ts';
import { allKeys, keyMeanings, nearbyKeys, unitOf } from '../../server/src/files/schema/keyMeanings.ts';
import { sampleText } from '../helpers/poolFiles.ts';
import { folderOf, repository, routewright } from './place.ts';

const folder = folderOf({});
const explain = (...argv: string[]) => routewright(folder, ['explain', ...argv]);

test('a key is explained with its place, type, unit, range and an example, each meaning by itself', async () => {
  const { code, out } = await explain('saves');
  expect(code).toBe(0);
  expect(out).toBe(`saves (technique, route file)
Seconds gained when it lands, net of its set-up, against not trying; a number,
or an 80 % range where you do not know it well (what differs from run to run
belongs in spread).

stands at  techniques: ID: saves:
type       a number or text
unit       seconds
range      at least 0
left out   an error: it is required
example    saves: 3.2
or         saves: 9..16

saves (use of a technique, route file)
Seconds gained when it lands at this place, where that differs from what the
technique says; a number or an 80 % range.

stands at  segments: - techniques: - saves:
type       a number or text
unit       seconds
range      at least 0
example    saves: 3.2
or         saves: 9..16
`);
});

test.each([
  ['Max-Tries:', 'max_tries (use of a technique, route file)'],
  ['restart', 'left out   10'],
  ['states', 'example    states: { crate-vault: learning }'],
  ['route', 'route (practice file, runs file, week file, pool file)'],
  ['ended', 'or         ended: { harbor: { reset: 20, death: 5 } }'],
  ['x-colour', 'x-colour is a key of your own'],
])('%s', async (key, words) => {
  const { code, out } = await explain(key);
  expect(code).toBe(0);
  expect(out).toContain(words);
});

test.each([
  [['sves'], 'No file has a key sves. Did you mean saves?'],
  [['max'], 'No file has a key max. Did you mean max_tries?'],
  [['pinned'], 'No file has a key pinned. Did you mean pin?'],
  [['crate-vault'], 'No file has a key crate-vault. All keys: routewright explain.'],
  [['saves', 'loses'], 'One key at a time, not 2: saves, loses.'],
])('%j exits 2 with a sentence', async (argv, sentence) => {
  const { code, out, err } = await explain(...argv);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err).toContain(sentence);
});

test('without a key, all keys are listed by kind of file', async () => {
  const { out } = await explain('--json');
  const { keys } = JSON.parse(out) as { keys: Record<string, string[]> };
  expect(Object.keys(keys)).toEqual(fileKinds);
  // Every key of the sample is explained; ids of techniques, segments and states are no keys.
  for (const kind of fileKinds) {
    const text = sampleText(kind);
    for (const [, key] of text.matchAll(/^([a-z_]+):/gm)) expect(keys[kind], kind).toContain(key);
  }
  expect((await explain()).out).toContain('Week file');
});

describe('the schemas behind it', () => {
  test('have a description for every key, and a unit for every number but grades and counts', () => {
    const without = allKeys().flatMap((key) =>
      keyMeanings(key)
        .filter(({ schema }) => schema.description === undefined)
        .map(() => key),
    );
    expect(without).toEqual([]);
    const unitless = allKeys().filter((key) =>
      keyMeanings(key).some(({ schema }) => schema.type === 'number' && unitOf(schema) === undefined),
    );
    expect(unitless).toEqual(['difficulty', 'unit_practice']);
  });

  test('have examples that fit them', () => {
    // S: ajv 8, a validator of JSON Schema, given the types and bounds as they are published.
    const ajv = new Ajv({ strict: false });
    for (const key of allKeys())
      for (const { schema } of keyMeanings(key)) {
        const { type, minimum, maximum, pattern, enum: words } = schema;
        const valid = ajv.compile(
          JSON.parse(JSON.stringify({ type, minimum, maximum, pattern, enum: words })) as object,
        );
        for (const example of schema.examples ?? [])
          expect(valid(example), `${key}: ${String(example)}`).toBe(true);
      }
  });

  test('a mistyped key has at most three others near it', () => {
    for (const key of allKeys()) expect(nearbyKeys(`${key}z`).length).toBeLessThanOrEqual(3);
    expect(nearbyKeys('spreed')).toEqual(['spread']);
  });

  test('are those in /schemas', () => {
    const route = readFileSync(join(repository, 'schemas/route.schema.json'), 'utf8');
    for (const { places } of keyMeanings('max_tries')) expect(places[0]!.kind).toBe('route');
    expect(route).toContain(keyMeanings('max_tries')[0]!.schema.description);
  });
});

import { describe, expect, it } from 'vitest';
import {
  PoolDocumentBuilder,
  buildPoolDocument,
} from '../../../../server/src/files/documents/poolDocument.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { parseMoment } from '../../../../server/src/text/calendar.ts';
import type { PooledTechnique } from '../../../../server/src/model/pool/pooledTechnique.ts';
import { digests, poolText, samplePool } from '../../../helpers/poolFiles.ts';

const documentOf = (text: string) => buildPoolDocument(readSource('pool', text));
const idsIn = (text: string) => documentOf(text).techniques.map(({ id }) => id);

const text = poolText({
  techniques: {
    'crate-vault': { runners: 3, difficulty: 4 },
    'lamp-hop': { runners: 4, difficulty: 5.5, brief: true },
  },
});

describe('a pool', () => {
  it('is read with all that it says', () => {
    const pool = documentOf(text);
    expect(pool).toMatchObject({ route: 'lanternfall.route.yaml', model: 1, day: parseMoment('2026-11-01') });
    expect(pool.runners).toEqual(digests(12));
    const [vault, hop] = pool.techniques;
    expect(vault).toMatchObject({
      id: 'crate-vault',
      path: ['techniques', 'crate-vault'],
      runners: 3,
      difficulty: 4,
    });
    const properties = [vault!.midway, vault!.loss!, vault!.suddenness!, vault!.ceiling!, vault!.floor!];
    const lengths = properties.map(({ quarter, half, threeQuarters, nearlyAll }) =>
      [quarter, half, threeQuarters, nearlyAll].map((list) => list.length),
    );
    expect(lengths).toEqual([25, 13, 6, 4, 4].map((length) => Array<number>(4).fill(length)));
    expect([vault!.midway.threeQuarters[11], vault!.midway.nearlyAll[11]]).toEqual([-3, -4]);
    expect(hop).toMatchObject({ runners: 4, difficulty: 5.5 });
    expect(Object.keys(hop!)).not.toContain('loss');
  });

  it('has the shape that the model works with', () => {
    const techniques: readonly PooledTechnique[] = documentOf(text).techniques;
    expect(techniques).toHaveLength(2);
  });

  it('names each runner once, and tells who stands there again', () => {
    const pool = documentOf(poolText({ runners: ['a00000000001', 'a00000000002', 'a00000000001'] }));
    expect(pool.runners).toEqual(['a00000000001', 'a00000000002']);
    expect(pool.repeatedRunners).toEqual([{ id: 'a00000000001', path: ['runners', 2] }]);
  });

  it('keeps places where a digest before is none', () => {
    const pool = documentOf(poolText({ runners: ['nobody', 'a00000000002', 'a00000000002'] }));
    expect(pool.runners).toEqual(['a00000000002']);
    expect(pool.repeatedRunners).toEqual([{ id: 'a00000000002', path: ['runners', 2] }]);
  });

  it('without anything in it is empty', () => {
    expect(documentOf('')).toEqual({
      route: undefined,
      model: undefined,
      day: undefined,
      runners: [],
      repeatedRunners: [],
      techniques: [],
    });
  });
});

describe('a technique of a pool', () => {
  it.each([
    ['a number too few', 'quarter: [-144, ', 'quarter: ['],
    ['a number too many', 'quarter: [-144, ', 'quarter: [-144, -144, '],
    ['a fraction', '-144,', '-144.5,'],
    ['a number beyond the limits', '-144,', '-1000001,'],
    ['no number', '-144,', '.nan,'],
    ['an infinite number', '-144,', '-.inf,'],
    ['a number of hundreds of digits', '-144,', `-${'9'.repeat(400)},`],
    ['two runners', 'runners: 3', 'runners: 2'],
    ['half a runner', 'runners: 3', 'runners: 3.5'],
    ['a difficulty that is not on the scale', 'difficulty: 4', 'difficulty: 0'],
    ['a key missing', 'nearly_all:', 'x-nearly-all:'],
    ['an unknown key', '    difficulty: 4\n', '    difficulty: 4\n    wide: 1\n'],
    ['a key written twice', '    difficulty: 4\n', '    difficulty: 4\n    difficulty: 5\n'],
    ['an optional list that is wrong', 'loss: { quarter: [-25,', 'loss: { quarter: ['],
    ['text that is not YAML', 'quarter: [-144,', 'quarter: ]-144,'],
    ['no value', /crate-vault:\n[^]*?\n {2}lamp-hop/, 'crate-vault:\n  lamp-hop'],
    ['a name that is no id', 'crate-vault:', 'Crate vault:'],
  ])('with %s is left out, and the other counts', (_, from, to) => {
    const changed = text.replace(from, to);
    expect(changed).not.toBe(text);
    expect(readSource('pool', changed).problems.length).toBeGreaterThan(0);
    expect(idsIn(changed)).toEqual(['lamp-hop']);
  });

  it('counts with a mistake outside of it', () => {
    for (const [from, to] of [
      ['model: 1', 'model: one'],
      ['"a00000000000"', '123456789012'],
      ['day: 2026-11-01', 'day: 2026-11-01\nwhat: 1'],
    ] as const)
      expect(idsIn(text.replace(from, to)), to).toEqual(['crate-vault', 'lamp-hop']);
    // Also below the techniques.
    expect(idsIn(`${text}model: 2\n`)).toEqual(['crate-vault', 'lamp-hop']);
  });

  it('counts with keys of the user', () => {
    expect(idsIn(text.replace('    difficulty: 4\n', '    difficulty: 4\n    x-note: mine\n'))).toHaveLength(
      2,
    );
  });

  it('says how many numbers there are, and how many there must be', () => {
    const { problems } = readSource('pool', text.replace('quarter: [-144, ', 'quarter: ['));
    expect(problems.map(({ message }) => message)).toEqual(['`quarter` has 24 values, and must have 25.']);
  });
});

describe('after an edit', () => {
  it('a technique that did not change is the same object, and a list without a change the same list', () => {
    const builder = new PoolDocumentBuilder();
    const first = readSource('pool', samplePool);
    const second = readSource('pool', samplePool.replace('runners: 7', 'runners: 8'), first);
    const third = readSource('pool', second.text.replace('day: 2026-11-01', 'day: 2026-11-02'), second);
    const [one, two, three] = [
      builder.build(first),
      builder.build(second, first),
      builder.build(third, second),
    ];
    expect(two.techniques[0]).toBe(one.techniques[0]);
    expect(two.techniques[1]).not.toBe(one.techniques[1]);
    expect(two.techniques[1]!.runners).toBe(8);
    expect(two.techniques[2]).toBe(one.techniques[2]);
    expect(three.techniques).toBe(two.techniques);
  });
});

import { describe, expect, it } from 'vitest';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { foundIn } from '../yaml/texts.ts';

const head = 'game: Lanternfall\ncategory: any%\n';
const segment = (keys: string) => `${head}segments:\n  - { id: harbor, time: 1:32.4, ${keys} }\n`;
const technique = (keys: string) =>
  `${head}techniques:\n  crate-vault:\n    ${keys.replaceAll(', ', '\n    ')}\n`;
const only = (text: string, kind: 'route' | 'runs' | 'practice' = 'route') => {
  const { problems } = readSource(kind, text);
  expect(problems).toHaveLength(1);
  return problems[0]!;
};

describe('what a problem says', () => {
  it('names the key that was meant, and mends it', () => {
    expect(only(segment('surive: 0.9'))).toMatchObject({
      code: 'unknown-key',
      message: 'Unknown key `surive`. Did you mean `survive`?',
      replacement: { text: 'survive' },
    });
  });

  it('does not suggest a key that is there already', () => {
    expect(only(segment('name: Gate, nane: x')).replacement).toBeUndefined();
  });

  it('lists the keys there are where none is near, and leaves keys of your own alone', () => {
    expect(only(segment('colour: blue')).message).toMatch(/Known here: id, name, time, .* begins with x-\./);
    expect(foundIn(segment('x-colour: blue'))).toEqual([]);
  });

  it('sees a space that is missing inside brackets', () => {
    expect(only(segment('spread:1.1'))).toMatchObject({ replacement: { text: 'spread: 1.1' } });
  });

  it('says what is missing, at the key it is missing from', () => {
    const { message, start, end } = only(technique('difficulty: 4'));
    expect(message).toMatch(/^This technique needs `saves`\. Seconds gained/);
    expect(technique('difficulty: 4').slice(start, end)).toBe('crate-vault');
    expect(foundIn(technique('name: x'))).toEqual(['missing-key: crate-vault', 'missing-key: crate-vault']);
  });

  it.each([
    [segment('name:'), '`name` has no value yet; it must be text. For example: Harbor gate.'],
    [segment('name: ""'), '`name` is empty. Write it, or remove the key. For example: Harbor gate.'],
    [segment('spread: wide'), '`spread` must be a number. For example: 1.1.'],
    [segment('survive: 1.5'), '`survive` must be more than 0 and at most 1.'],
    [segment('survive: 0'), '`survive` must be more than 0 and at most 1.'],
    [
      technique('difficulty: 11, saves: 1'),
      'The difficulty scale goes from 1 (easy) to 10 (very hard). Choose a number on it.',
    ],
    [
      technique('difficulty: 1, saves: 1..'),
      '`saves` cannot be read as seconds: write a number, or a range low..high. For example: 3.2 or 9..16.',
    ],
    [
      technique('difficulty: 1, saves: 1, needs: [Kick]'),
      'This id cannot be read: an id has lower-case letters, digits and hyphens, a letter first. For example: crate-vault.',
    ],
    [
      `${head}target: soon\n`,
      '`target` cannot be read as a time: write seconds, m:ss.s or h:mm:ss.s. For example: 41:30.',
    ],
    [
      `${head}techniques: { Crate: { difficulty: 1, saves: 1 } }\n`,
      '`Crate` is no valid id: lower-case letters, digits and hyphens, a letter first.',
    ],
    [segment('spread: 1e308'), '`spread` must be at least 0 and at most 999999.'],
    [segment(`spread: ${'9'.repeat(400)}`), '`spread` must be at least 0 and at most 999999.'],
    [technique('difficulty: 1, saves: .inf'), '`saves` must be at least 0 and at most 999999.'],
    [technique('difficulty: 1, saves: .nan'), '`saves` must be at least 0 and at most 999999.'],
    [
      technique(`difficulty: 1, saves: 1..${'9'.repeat(400)}`),
      '`saves` is longer than any run: it must be below a million seconds.',
    ],
    [
      `${head}target: ${'9'.repeat(30)}:59\n`,
      '`target` is longer than any run: it must be below a million seconds, 10,000 minutes or 100 hours.',
    ],
  ])('%j', (text, message) => {
    expect(only(text).message).toBe(message);
  });

  it('names the values there are, and the one that was meant', () => {
    const run = (why: string) =>
      `route: a.route.yaml\nruns:\n  - { start: 2026-10-05, ended: { at: harbor, why: ${why} } }\n`;
    expect(only(run('mis'), 'runs').message).toBe(
      '`why` must be one of miss, death, reset. Did you mean `miss`?',
    );
    expect(only(run('bored'), 'runs').replacement).toBeUndefined();
  });

  it('tells a run from an evening by its keys', () => {
    const runs = (keys: string) => `route: a.route.yaml\nruns:\n  - { ${keys} }\n`;
    expect(only(runs('date: 2026-10-05, runs: 3, total: 42:00'), 'runs').message).toBe(
      '`total` does not go together with the other keys here. Remove it.',
    );
    expect(only(runs('minutes: 3, start: 2026-10-05'), 'runs').code).toBe('unknown-key');
    expect(
      only(runs('date: 2026-10-05, runs: 1, ended: { harbor: { rest: 1 } }'), 'runs').replacement?.text,
    ).toBe('reset');
  });

  it('is told of fifty mistakes of an entry at most, and the last of them counts the others', () => {
    const keys = (count: number): string => Array.from({ length: count }, (_, i) => `zz${i}qq: 1`).join(', ');
    expect(readSource('route', segment(keys(50))).problems).toHaveLength(50);
    const { problems } = readSource('route', segment(keys(51)));
    expect(problems).toHaveLength(50);
    expect(problems[48]!.message).not.toContain('more mistakes');
    expect(problems[49]!.message).toMatch(/ And 1 more mistakes? here, which /);
    expect(readSource('route', segment(keys(4_050))).problems.at(-1)!.message).toContain(
      'And 4,000 more mistakes',
    );
  });

  it('says how a count is written', () => {
    const block =
      'route: a.route.yaml\nsessions:\n  - { start: 2026-10-05, blocks: [{ minutes: 5, landed: [1] }] }\n';
    expect(only(block, 'practice').message).toBe(
      '`landed` is written as [landed, tries] of the whole block, counted.',
    );
  });
});

describe('what is left when something is wrong', () => {
  it('leaves out what is wrong, and an entry only where it cannot do without', () => {
    const text = `${head}segments:\n  - { id: a, time: 1, spread: wide }\n  - { id: b }\n  - { id: c, time: 3, luck: [{ chance: 2, adds: 1 }, { chance: 0.5, adds: 1 }] }\n`;
    expect(JSON.parse(JSON.stringify(readSource('route', text).value.segments))).toEqual([
      { id: 'a', time: 1 },
      { id: 'c', time: 3, luck: [{ chance: 0.5, adds: 1 }] },
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { parseYaml } from '../../../../server/src/files/yaml/parseYaml.ts';
import { toValue } from '../../../../server/src/files/yaml/value.ts';
import { plain } from '../plain.ts';

const valueOf = (text: string) => plain(toValue(parseYaml(text).tree));
const foundIn = (text: string) =>
  parseYaml(text).problems.map(({ start, end, code }) => `${code}: ${text.slice(start, end).split('\n')[0]}`);
const messagesOf = (text: string) => parseYaml(text).problems.map(({ message }) => message);

describe('parseYaml', () => {
  // S: YAML 1.2.2, section 10.3.2, the core schema's table of resolved scalars.
  it('reads scalars by YAML 1.2, not 1.1', () => {
    expect(
      valueOf(
        '{ a: 1:32.4, b: yes, c: 0o14, d: 0x10, e: 1e3, f: ~, g: .inf, h: 2026-10-05, i: off, j: 012, k: True }',
      ),
    ).toEqual({
      a: '1:32.4',
      b: 'yes',
      c: 12,
      d: 16,
      e: 1000,
      f: null,
      g: Infinity,
      h: '2026-10-05',
      i: 'off',
      j: 12,
      k: true,
    });
  });

  it('keeps keys as they are written', () => {
    expect(valueOf('1e3: a\nnull: b\ntrue: c\n1:32: d\n? e\n: f\n')).toEqual({
      '1e3': 'a',
      null: 'b',
      true: 'c',
      '1:32': 'd',
      e: 'f',
    });
  });

  it('has offsets in UTF-16 units', () => {
    const text = 'a: "🏮🏮" # 🏮\nb: [x\n';
    const { tree, problems } = parseYaml(text);
    expect(tree).toMatchObject({
      type: 'map',
      entries: [{ value: { start: 3, end: 9 } }, { key: { start: 15, end: 16 } }],
    });
    expect(problems).toMatchObject([{ start: text.indexOf('['), end: text.indexOf('[') + 1 }]);
  });

  it('speaks of the quote or bracket that is not closed, and of nothing after it', () => {
    expect(foundIn('a: "x\nb: 1\nc: 2\n')).toEqual(['yaml-syntax: "']);
    expect(foundIn('a: [x, {y: 1]\nb: [1\n')).toEqual(['yaml-syntax: {']);
    expect(messagesOf("a: 'x\n")).toEqual(['This quote is never closed. Close it, or remove it.']);
  });

  it('names a tab, and a space that is missing', () => {
    expect(messagesOf('a:\n\tb: 1\n')).toEqual(['Indent with spaces, not with a tab.']);
    expect(messagesOf('a: 1\nb:2\nc: 3\n')).toEqual(['A space is missing after the colon.']);
  });

  it('resolves aliases, and says which name is not there', () => {
    expect(valueOf('a: &x [1]\nb: *x\n')).toEqual({ a: [1], b: [1] });
    expect(valueOf('a: &x\nb: *x\n&k c: 1\nd: *k\n')).toEqual({ a: null, b: null, c: 1, d: 'c' });
    expect(foundIn('a: *x\n')).toEqual(['yaml-syntax: *x']);
    expect(foundIn('a: &x [*x]\n')).toEqual(['yaml-syntax: *x']);
    expect(parseYaml('a: &x 1\n').usesAnchors).toBe(true);
    expect(parseYaml('*x : 1\n').usesAnchors).toBe(true);
    expect(parseYaml('a: "&x"\n').usesAnchors).toBe(false);
  });

  it('bears aliases that stand for more than anybody means', () => {
    const lines = ['a0: &a0 [x, x, x, x, x, x, x, x, x, x]'];
    for (let level = 1; level < 40; level++) {
      lines.push(
        `a${level}: &a${level} [${Array<string>(10)
          .fill(`*a${level - 1}`)
          .join(', ')}]`,
      );
    }
    const { tree, problems } = parseYaml(lines.join('\n'));
    expect(problems.map(({ code }) => code)).toEqual(['aliases-too-large']);
    expect(Object.keys(toValue(tree) as object)).toHaveLength(40);
  });

  it.each([
    ['brackets', '['.repeat(50_000)],
    ['maps in maps', '{a: '.repeat(50_000)],
    ['dashes', '- '.repeat(50_000)],
    ['wide dashes', '-   '.repeat(50_000)],
    ['question marks', '? '.repeat(50_000)],
    ['lines, each deeper', Array.from({ length: 800 }, (_, depth) => `${' '.repeat(depth)}a:`).join('\n')],
    [
      'dashed lines, each deeper',
      Array.from({ length: 800 }, (_, depth) => `${' '.repeat(depth)}-\n`).join(''),
    ],
  ])('bears %s without end', (_, text) => {
    expect(parseYaml(text).problems.map(({ code }) => code)).toEqual(['nested-too-deep']);
  });

  it('reads one document, and says where a second begins', () => {
    expect(valueOf('a: 1\n---\nb: 2\n')).toEqual({ a: 1 });
    expect(foundIn('a: 1\n---\nb: 2\n')).toEqual(['several-documents: ---']);
    expect(foundIn('a: 1\n...\n')).toEqual([]);
    expect(parseYaml('').tree).toBeUndefined();
  });

  it('names the first of a key that stands twice', () => {
    const { tree, problems } = parseYaml('{a: 1, a: 2}');
    expect(plain(toValue(tree))).toEqual({ a: 1 });
    expect(problems).toMatchObject([
      { code: 'duplicate-key', start: 7, end: 8, related: { start: 1, end: 2 } },
    ]);
  });

  it.each([
    ['a: !!binary aGk=', '!!binary'],
    ['a: !mine 1', '!mine'],
    ['a: !!timestamp 2026-10-05', '!!timestamp'],
    ['a: !!set {b}', '!!set'],
  ])('knows no tags beyond the core: %s', (text, tag) => {
    expect(foundIn(text)).toEqual([`yaml-syntax: ${tag}`]);
    expect(foundIn('a: !!str 5')).toEqual([]);
  });

  it('knows no keys that are lists or maps', () => {
    expect(foundIn('? [a, b]\n: 1\nc: 2\n')).toEqual(['yaml-syntax: [']);
  });
});

import { describe, expect, it } from 'vitest';
import { fileKindOf } from '../../../../server/src/files/fileKind.ts';
import { readSource, type Reading } from '../../../../server/src/files/reading/reading.ts';
import { plain } from '../plain.ts';
import { found, foundIn, practiceText, routeText, runsText, texts, weekText } from '../yaml/texts.ts';

const head = 'game: Lanternfall\ncategory: any%\n';
const technique = '{ difficulty: 1, saves: 1 }';
const valueOf = (text: string) => plain(readSource('route', text).value) as Record<string, unknown>;

describe('read', () => {
  it.each(Object.entries(texts))('finds nothing wrong with a good %s file', (kind, text) => {
    expect(foundIn(text, fileKindOf(`a.${kind}.yaml`))).toEqual([]);
  });

  it.each([
    ['', 'empty-file: '],
    ['# only\n\n# comments\n', 'empty-file: # only'],
    ['\n\n', 'empty-file: '],
    ['- a\n- b\n', 'wrong-type: - a'],
    ['words\n', 'wrong-type: words'],
  ])('says that %j has no keys', (text, problem) => {
    expect(foundIn(text)).toEqual([problem]);
    expect(valueOf(text)).toEqual({});
  });

  it('says what a file needs', () => {
    expect(foundIn('{}')).toEqual(['missing-key: {}', 'missing-key: {}']);
    expect(foundIn('game: x\n')).toEqual(['missing-key: game: x']);
  });

  it('takes CRLF and a byte-order mark for what they are', () => {
    const text = `\uFEFF${head}restart: soon\nsegments:\n  - id: a\n    time: late\n`.replaceAll(
      '\n',
      '\r\n',
    );
    expect(foundIn(text)).toEqual(['wrong-type: soon', 'unreadable-time: late']);
    expect(plain(readSource('route', routeText.replaceAll('\n', '\r\n')).value)).toEqual(valueOf(routeText));
  });

  it.each([
    ['a null character', 'x-a: "b\0c"\n', 'control-character: \0'],
    ['an escape', 'x-a: b\u001bc\n', 'control-character: \u001b'],
    ['a byte-order mark inside', 'x-a: b\uFEFFc\n', 'control-character: \uFEFF'],
  ])('shows %s', (_, line, problem) => {
    expect(foundIn(head + line)).toEqual([problem]);
  });

  it('shows a lone carriage return', () => {
    expect(
      readSource('route', 'game: a\rcategory: b\r').problems.map(({ code, start }) => [code, start]),
    ).toContainEqual(['control-character', 7]);
  });

  it('shows a second document and reads the first', () => {
    expect(foundIn(`${head}---\ngame: y\n`)).toEqual(['several-documents: ---']);
    expect(valueOf(`---\n${head}`)).toEqual(valueOf(head));
    expect(foundIn(`--- # c\n${head}`)).toEqual([]);
    expect(valueOf(`${head}---\ngame: y\n`).game).toBe('Lanternfall');
  });

  it('tells keys that stand twice, inside a piece, between pieces and at the top', () => {
    const text = `${head}techniques:\n  a: { difficulty: 1, saves: 1, saves: 2 }\n  b: ${technique}\n  a: { difficulty: 9, saves: 9 }\ngame: Other\n`;
    const { problems } = readSource('route', text);
    expect(found({ problems, text })).toEqual([
      'duplicate-key: saves',
      'duplicate-key: a',
      'duplicate-key: game',
    ]);
    expect(
      problems.map(({ related }) => related && text.slice(Math.max(0, related.start - 2), related.end)),
    ).toEqual([', saves', '  a', 'game']);
    expect(valueOf(text)).toMatchObject({ game: 'Lanternfall', techniques: { a: { saves: 1 } } });
  });

  it('never lets a second entry in where the first of its name is wrong', () => {
    const text = `${head}techniques:\n  a: { difficulty: 1 }\n  a: ${technique}\n`;
    expect(valueOf(text).techniques).toEqual({});
    expect(foundIn(text)).toEqual(['missing-key: a', 'duplicate-key: a']);
  });

  it('has no special ids', () => {
    const text = `${head}techniques:\n  __proto__: ${technique}\n  constructor: ${technique}\n  toString: ${technique}\n`;
    expect(foundIn(text)).toEqual(['invalid-id: __proto__', 'invalid-id: toString']);
    expect(Object.keys(readSource('route', text).value.techniques as object)).toEqual(['constructor']);
    expect(foundIn(`__proto__: { game: x }\n${head}`)).toEqual(['unknown-key: __proto__']);
    expect(({} as { game?: string }).game).toBeUndefined();
  });

  it('reads anchors and aliases across entries', () => {
    const text = `${head}techniques:\n  a: &t ${technique}\n  b: *t\n`;
    expect(foundIn(text)).toEqual([]);
    expect(valueOf(text).techniques).toEqual({
      a: { difficulty: 1, saves: 1 },
      b: { difficulty: 1, saves: 1 },
    });
    expect(foundIn(`${head}target: *t\n`)).toEqual(['yaml-syntax: *t']);
  });

  it.each([
    ['restart: 1e3', []],
    ['restart: 0x10', []],
    ['restart: .inf', ['wrong-type: .inf']],
    ['restart: .nan', ['wrong-type: .nan']],
    ['target: 1e3', []],
    ['target: -.inf', ['wrong-type: -.inf']],
    ['target: "1e3"', ['unreadable-time: "1e3"']],
    ['target: 1:75', ['unreadable-time: 1:75']],
    ['restart: -1', ['out-of-range: -1']],
    [`techniques: { 1e3: ${technique} }`, ['invalid-id: 1e3']],
    ['techniques: { a: { difficulty: 0x10, saves: 1 } }', ['difficulty-out-of-scale: 0x10']],
    ['techniques: { a: { difficulty: .nan, saves: 1 } }', ['wrong-type: .nan']],
    ['<<: { restart: 1 }', ['unknown-key: <<']],
    ['? [a, b]\n: 1', ['yaml-syntax: [']],
    ['target: !!binary aGk=', ['yaml-syntax: !!binary']],
    ['restart: !mine 3', ['yaml-syntax: !mine']],
    ['notes: 🏮 "lamp"\nrestart: soon', ['wrong-type: soon']],
    ['name: "🏮"', ['unknown-key: name']],
    ['segments:\n  -\n  - { id: a, time: 1 }', ['wrong-type: ']],
    ['techniques:\n  a:\n', ['wrong-type: a']],
    ['segments:', ['wrong-type: segments']],
  ])('reads %j with the problems %j', (line, problems) => {
    expect(foundIn(`${head}${line}\n`)).toEqual(problems);
  });

  it('reads the first version of a merge conflict, in an entry and at the top', () => {
    const text = `${head}segments:\n  - id: a\n<<<<<<< HEAD\n    time: 1\n||||||| base\n    time: 3\n=======\n    time: 2\n>>>>>>> other\n    spread: 1\n`;
    const { problems } = readSource('route', text);
    expect(found({ problems, text })).toEqual(['merge-conflict: <<<<<<< HEAD']);
    expect(text.slice(problems[0]!.related!.start, problems[0]!.related!.end)).toBe('>>>>>>> other');
    expect(valueOf(text).segments).toEqual([{ id: 'a', time: 1, spread: 1 }]);
    expect(valueOf('<<<<<<< HEAD\ngame: x\n=======\ngame: y\n>>>>>>> other\ncategory: z\n')).toEqual({
      game: 'x',
      category: 'z',
    });
    expect(foundIn(`${head}=======\nrestart: 3\n>>>>>>> other\n`)).toEqual([
      'merge-conflict: =======',
      'merge-conflict: >>>>>>> other',
    ]);
  });

  it('keeps what is beside a broken entry', () => {
    const text = routeText.replace('name: Crate vault', 'name: "Crate vault');
    expect(foundIn(text)).toEqual(['yaml-syntax: "']);
    expect(Object.keys(valueOf(text).techniques as object)).toContain('lamp-clip');
    expect(valueOf(text).segments).toHaveLength(3);
  });

  it('goes on with a section after a stray line in it', () => {
    const text = routeText
      .replace('techniques:\n  crate', 'techniques:\n  half\n  crate')
      .replace('  - id: rope', 'oops\n  - id: rope');
    expect(foundIn(text)).toEqual(['yaml-syntax: oops', 'yaml-syntax: half']);
    expect(valueOf(text)).toEqual(valueOf(routeText));
  });

  it('bears very long lines and scalars', () => {
    const long = `${head}notes: ${'x'.repeat(2_000_000)}\nx-a: a${' '.repeat(200_000)}b\n${'word '.repeat(40_000)}\n`;
    const { value, problems } = readSource('route', long);
    expect((value.notes as string).length).toBe(2_000_000);
    expect(problems.map(({ code }) => code)).toEqual(['yaml-syntax']);
  });

  it('reads a log of five million characters', () => {
    const block =
      '      - { technique: crate-vault, minutes: 25, notes: "a long evening at the quay, mostly rain" }\n';
    const session = (index: number) =>
      `  - start: 2026-10-05T19:${String(index % 60).padStart(2, '0')}\n    blocks:\n${block.repeat(400)}`;
    const text = `route: a.route.yaml\nsessions:\n${Array.from({ length: 130 }, (_, index) => session(index)).join('')}`;
    expect(text.length).toBeGreaterThan(5_000_000);
    const { value, problems } = readSource('practice', text);
    expect(problems).toEqual([]);
    expect(value.sessions).toHaveLength(130);
  });

  it('refuses a text beyond all measure', () => {
    expect(foundIn(`# x\n${' '.repeat(20_000_001)}`)).toEqual(['file-too-large: # x']);
  });

  it('reads only the piece that changed', () => {
    const before = readSource('route', routeText);
    const after = readSource('route', routeText.replace('spread: 1.1', 'spread: 1.2'), before);
    const parsedIn = (reading: Reading) => reading.chunkedText!.chunks.map(({ parsed }) => parsed);
    const kept = parsedIn(after).filter((parsed) => parsedIn(before).includes(parsed));
    expect(kept).toHaveLength(parsedIn(before).length - 1);
    const checkedIn = (reading: Reading) => [...reading.sections.values()].flatMap(({ entries }) => entries);
    const same = checkedIn(after).filter((checked) => checkedIn(before).includes(checked));
    expect(same).toHaveLength(checkedIn(before).length - 1);
    expect(readSource('route', routeText, before)).toBe(before);
  });

  it('reads in pieces again once the last anchor is gone', () => {
    const anchored = readSource('route', routeText.replace('Lanternfall', '&game Lanternfall'));
    const after = readSource('route', routeText, anchored);
    expect(after.chunkedText!.chunks.length).toBeGreaterThan(5);
    const late = routeText.replace('saves: 3.2', 'saves: &some 3.2');
    const broken = routeText
      .replace('saves: 3.2', 'saves: 3.2: 1')
      .replace('difficulty: 7', 'difficulty: 7: 1');
    expect(readSource('route', broken, readSource('route', late)).problems).toEqual(
      readSource('route', broken).problems,
    );
    expect(readSource('route', broken).problems.length).toBeGreaterThan(1);
  });

  it('checks the other kinds by their own schemas', () => {
    expect(foundIn(practiceText.replace('lmmlll', 'lmx'), 'practice')).toEqual(['wrong-value: lmx']);
    expect(foundIn(practiceText.replace('[61, 104]', '[61]'), 'practice')).toEqual(['wrong-type: [61]']);
    expect(foundIn(runsText.replace('why: miss', 'why: mis'), 'runs')).toEqual(['wrong-value: mis']);
    expect(foundIn(runsText.replace('minutes: 120', 'total: 42:00'), 'runs')).toEqual(['unknown-key: total']);
    expect(foundIn(weekText.replace('learning', 'learned'), 'week')).toEqual(['wrong-value: learned']);
    expect(foundIn(weekText.replace('mon:', 'monday:'), 'week')).toEqual(['unknown-key: monday']);
  });
});

import { symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, samples } from './place.ts';

interface Report {
  findings: {
    file: string;
    range: { start: { line: number; character: number }; end: { line: number; character: number } };
    code: string;
    severity: string;
    message: string;
    fixable: boolean;
  }[];
}

async function findings(cwd: string, ...argv: string[]) {
  const said = await routewright(cwd, ['check', '--json', ...argv]);
  return { ...said, ...(JSON.parse(said.out) as Report) };
}

describe('check', () => {
  test('finds no error in the sample', async () => {
    const { code, findings: found } = await findings(samples);
    expect(found.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(code).toBe(0);
  });

  test('prints exactly the promised fields, places from 0 in UTF-16', async () => {
    const folder = folderOf({
      // The lamp is one character to a reader and two in UTF-16; the log speaks of a technique that is not there.
      'lanternfall.route.yaml': route,
      'logs/one.practice.yaml': `route: ../lanternfall.route.yaml\nsessions:\n  - start: 2026-10-05\n    blocks: [{ "technique": crate-valt, x-note: "🏮", minutes: 5 }, { x-note: "🏮", technique: wall-kik, minutes: 5 }]\n`,
    });
    const { code, findings: found, err } = await findings(folder);
    expect({ code, err }).toEqual({ code: 1, err: '' });
    const [first, second] = found.filter(({ code: rule }) => rule === 'unknown-technique');
    expect(Object.keys(first!)).toEqual(['file', 'range', 'code', 'severity', 'message', 'fixable']);
    expect(first).toMatchObject({
      file: 'logs/one.practice.yaml',
      range: { start: { line: 3, character: 28 }, end: { line: 3, character: 38 } },
      severity: 'error',
      fixable: true,
    });
    const line = `    blocks: [{ "technique": crate-valt, x-note: "🏮", minutes: 5 }, { x-note: "🏮", technique: wall-kik`;
    expect(second!.range.start).toEqual({ line: 3, character: line.indexOf('wall-kik') });
  });

  test('does not count a byte-order mark as a character', async () => {
    const text = route.replace('game: Lanternfall', 'gme: Lanternfall');
    const plain = await findings(folderOf({ 'a.route.yaml': text }));
    const marked = await findings(folderOf({ 'a.route.yaml': `\uFEFF${text}` }));
    expect(plain.findings.map(({ code }) => code)).toContain('unknown-key');
    expect(marked.findings).toEqual(plain.findings);
  });

  test('says the same twice, to the byte', async () => {
    const once = await routewright(samples, ['check', '--json']);
    expect(await routewright(samples, ['check', '--json'])).toEqual(once);
  });

  test('prints place, severity, message and code, and a line that sums up', async () => {
    const folder = folderOf({ 'a.route.yaml': route.replace('[crate-vault]', '[crate-valt]') });
    const { code, out } = await routewright(folder, ['check']);
    expect(code).toBe(1);
    expect(out).toMatch(/^a\.route\.yaml:4:46 {2}error {2}.*crate-valt.*\[unknown-technique\]$/m);
    expect(out).toMatch(/^1 file checked, as of \d{4}-\d\d-\d\d: .*1 error/m);
    expect(out).toContain('--fix');
  });

  test('styles its text for a terminal only, and not where colour is declined', async () => {
    const folder = folderOf({ 'a.route.yaml': route.replace('[crate-vault]', '[crate-valt]') });
    const escape = '\u001b[';
    expect((await routewright(folder, ['check'])).out).not.toContain(escape);
    expect((await routewright(folder, ['check'], { isTTY: true })).out).toContain(escape);
    expect((await routewright(folder, ['check'], { isTTY: true, env: { NO_COLOR: '1' } })).out).not.toContain(
      escape,
    );
    expect((await routewright(folder, ['check', '--json'], { isTTY: true })).out).not.toContain(escape);
  });

  test('lets no control code of a file reach the terminal', async () => {
    const folder = folderOf({
      'a.route.yaml': route
        .replace('any%', '"\\e[31m"')
        .replace('[crate-vault]', '["\\e[2J"]')
        .replace('name: Crate vault', 'name: "\\e]0;x\\a"'),
    });
    for (const command of ['check', 'rank']) {
      const { out, err } = await routewright(folder, [command]);
      expect(out + err).not.toContain('\u001b');
    }
  });

  test('fails on warnings and hints only when asked to', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': route,
      // Two sessions the wrong way round: a warning or less, no error.
      'lanternfall.practice.yaml': practice.replace('2026-10-05', '2026-10-07'),
    });
    const { findings: found, code } = await findings(folder);
    expect(found.map(({ severity }) => severity)).toEqual(['warning']);
    expect(code).toBe(0);
    expect((await findings(folder, '--fail-on', 'warning')).code).toBe(1);
    expect((await findings(folder, '--fail-on', 'hint')).code).toBe(1);
  });

  test('finds dates in the future only against a given date', async () => {
    const folder = folderOf({ 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': practice });
    const codes = async (...argv: string[]) =>
      (await findings(folder, ...argv)).findings.map(({ code }) => code);
    expect(await codes()).not.toContain('date-in-future');
    expect(await codes('--as-of', '2026-10-06')).not.toContain('date-in-future');
    expect(await codes('--as-of', '2026-10-05')).toContain('date-in-future');
  });
});

describe('which files are looked at', () => {
  const broken = `game: Other\ncategory: x\nunknown: 1\n`;

  test('a route: itself and the logs and week beside it, not its neighbours', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': route,
      'lanternfall.practice.yaml': practice.replace('wall-kick', 'wall-kik'),
      'other.route.yaml': broken,
      'below/other.route.yaml': broken,
    });
    const { findings: found } = await findings(folder, 'lanternfall.route.yaml');
    expect(found.map(({ file, code }) => `${file} ${code}`)).toEqual([
      'lanternfall.practice.yaml unknown-technique',
    ]);
  });

  test('a log: its route too, wherever that lies in the repository', async () => {
    const folder = folderOf({
      '.git/HEAD': 'ref: refs/heads/main\n',
      'routes/lanternfall.route.yaml': route.replace('difficulty: 4', 'difficulty: 14'),
      'logs/mine.practice.yaml': practice
        .replace('lanternfall', '../routes/lanternfall')
        .replace('wall-kick', 'wall-kik'),
    });
    const { findings: found } = await findings(join(folder, 'logs'), 'mine.practice.yaml');
    expect(found.map(({ file, code }) => `${file} ${code}`)).toEqual([
      'mine.practice.yaml unknown-technique',
      '../routes/lanternfall.route.yaml difficulty-out-of-scale',
    ]);
  });

  test('the routes that a route extends', async () => {
    const folder = folderOf({
      'base/base.route.yaml': route.replace('difficulty: 4', 'difficulty: 14'),
      'any/any.route.yaml': 'game: Lanternfall\ncategory: glitchless\nextends: ../base/base.route.yaml\n',
    });
    const { findings: found } = await findings(folder, 'any/any.route.yaml');
    expect(found.map(({ file, code }) => `${file} ${code}`)).toEqual([
      'base/base.route.yaml difficulty-out-of-scale',
    ]);
  });

  test('a log whose route is missing is an error at that line, given itself or below a folder', async () => {
    const folder = folderOf({ 'a.practice.yaml': 'runner: Iris\nroute: gone.route.yaml\nsessions: []\n' });
    for (const argv of [[], ['.'], ['a.practice.yaml']]) {
      const { code, findings: found } = await findings(folder, ...argv);
      expect(code).toBe(1);
      expect(found).toMatchObject([
        {
          code: 'unknown-route',
          severity: 'error',
          range: { start: { line: 1, character: 7 }, end: { line: 1, character: 22 } },
        },
      ]);
    }
  });

  test('a log that points out of the folder given is told so, and the file there is not read', async () => {
    const folder = folderOf({
      'secret.route.yaml': broken,
      'given/a.practice.yaml': 'route: ../secret.route.yaml\nsessions: []\n',
    });
    const { findings: found } = await findings(folder, 'given');
    expect(found.map(({ file, code }) => `${file} ${code}`)).toEqual(['given/a.practice.yaml unknown-route']);
    expect(found[0]!.message).toContain('outside');
  });

  test('each file once, however often it was given', async () => {
    const folder = folderOf({ 'a.route.yaml': route.replace('[crate-vault]', '[crate-valt]') });
    const once = await findings(folder);
    expect(await findings(folder, '.', 'a.route.yaml', '.', 'a.route.yaml')).toEqual(once);
  });

  test('links to folders that lead in a circle end', async () => {
    const folder = folderOf({ 'a/a.route.yaml': route });
    symlinkSync(folder, join(folder, 'a/loop'));
    expect((await findings(folder)).code).toBe(0);
  });

  test('a file that is no text is a finding, and the rest is checked', async () => {
    const folder = folderOf({
      'a.route.yaml': route.replace('[crate-vault]', '[crate-valt]'),
      'a.runs.yaml': Uint8Array.from([0xff, 0xfe, 0x72, 0, 0x6f, 0]),
    });
    const { code, err, findings: found } = await findings(folder);
    expect(code).toBe(2);
    expect(err).toBe('');
    expect(found.map(({ file, code: of }) => `${file} ${of}`)).toEqual([
      'a.route.yaml unknown-technique',
      'a.route.yaml technique-unused',
      'a.runs.yaml file-not-read',
    ]);
    expect(found[2]!.message).toBe('This file is not read: it is not UTF-8 text. Save it again as UTF-8.');
  });

  test('several runners: named when none is chosen, fine when one is', async () => {
    const folder = folderOf({
      'lanternfall.route.yaml': route,
      'iris.practice.yaml': `runner: Iris\n${practice}`,
      'noor.practice.yaml': `runner: Noor\n${practice}`,
    });
    const undecided = await findings(folder);
    expect(undecided.findings.map(({ code }) => code)).toContain('several-runners');
    const chosen = await findings(folder, '--runner', 'Noor');
    expect(chosen.findings).toEqual([]);
    const nobody = await routewright(folder, ['check', '--runner', 'Nora']);
    expect(nobody).toMatchObject({ code: 2, out: '' });
    expect(nobody.err).toContain('Iris and Noor');
  });
});

describe('broken input is answered, not crashed on', () => {
  const cases: Record<string, string> = {
    empty: '',
    tabs: 'game: a\ncategory: b\nsegments:\n\t- id: x\n',
    'several documents': 'game: a\ncategory: b\n---\ngame: c\n',
    prototype: 'game: a\ncategory: b\ntechniques:\n  __proto__: { difficulty: 1, saves: 1 }\n',
    nul: 'game: a\u0000b\ncategory: b\n',
    'alias bomb': `x-a: &a [1,1,1,1,1,1,1,1,1]\n${'bcdefghi'
      .split('')
      .map((name, index) => `x-${name}: &${name} [${Array(9).fill(`*${'abcdefgh'[index]!}`).join(',')}]`)
      .join('\n')}\ngame: a\ncategory: b\nsegments: *i\n`,
    'half typed': 'game: Lanternfall\ncategory: "any\nsegments:\n  - id: ha',
  };
  test.each(Object.keys(cases))('%s', async (name) => {
    const { code, findings: found } = await findings(folderOf({ 'a.route.yaml': cases[name]! }));
    expect(code).toBe(1);
    expect(found[0]!.file).toBe('a.route.yaml');
    expect(found[0]!.message).not.toBe('');
  });
});

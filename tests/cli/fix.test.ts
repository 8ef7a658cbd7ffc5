import {
  chmodSync,
  lstatSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { applyFixes } from '../../server/src/cli/checking/fix.ts';
import { loadFiles } from '../../server/src/cli/project/loadFiles.ts';
import type { Finding } from '../../server/src/rules/engine/findings.ts';
import { formatDate } from '../../server/src/text/calendar.ts';
import { afterAllLogs } from '../helpers/lastDay.ts';
import { folderOf, placeOf, practice, route, routewright, textOf } from './place.ts';

const misspelt = route.replace('[crate-vault]', '[crate-valt]').replace('[wall-kick]', '[wall-kik]');

describe('check --fix', () => {
  test('applies the edits, says what it did and leaves nothing to find', async () => {
    const folder = folderOf({ 'a.route.yaml': misspelt });
    const { code, out } = await routewright(folder, ['check', '--fix']);
    expect(textOf(folder, 'a.route.yaml')).toBe(route);
    expect(out).toContain('a.route.yaml:4:46  mended  Change to `crate-vault`\n');
    expect(out).toContain('2 edits made.');
    expect(out).toContain(`1 file checked, as of ${formatDate(afterAllLogs.date)}: nothing found.`);
    expect(code).toBe(0);
    expect(readdirSync(folder)).toEqual(['a.route.yaml']);
  });

  test('keeps line ends, byte-order mark, comments and the mode of the file', async () => {
    const dressed = (text: string) =>
      `\uFEFF# mine\r\n${text.replaceAll('\n', '\r\n')}# the end, no line end`;
    const folder = folderOf({ 'a.route.yaml': dressed(misspelt) });
    chmodSync(join(folder, 'a.route.yaml'), 0o640);
    await routewright(folder, ['check', '--fix']);
    expect(readFileSync(join(folder, 'a.route.yaml'))).toEqual(Buffer.from(dressed(route)));
    expect(statSync(join(folder, 'a.route.yaml')).mode & 0o777).toBe(0o640);
  });

  test('writes no file that stays as it is', async () => {
    const folder = folderOf({ 'a.route.yaml': route });
    const before = statSync(join(folder, 'a.route.yaml'));
    const { out } = await routewright(folder, ['check', '--fix']);
    const after = statSync(join(folder, 'a.route.yaml'));
    expect([after.ino, after.mtimeMs]).toEqual([before.ino, before.mtimeMs]);
    expect(out).toContain('no edits made.');
  });

  test('touches no file that was not given', async () => {
    const log = practice.replace('wall-kick', 'wall-kik');
    const folder = folderOf({ 'lanternfall.route.yaml': misspelt, 'lanternfall.practice.yaml': log });
    const { code } = await routewright(folder, ['check', '--fix', 'lanternfall.route.yaml']);
    expect(textOf(folder, 'lanternfall.route.yaml')).toBe(route);
    expect(textOf(folder, 'lanternfall.practice.yaml')).toBe(log);
    expect(code).toBe(1);
  });

  test('follows no link out of the folder given', async () => {
    const outside = folderOf({ 'b.route.yaml': misspelt });
    const folder = folderOf({ 'a.route.yaml': route });
    symlinkSync(join(outside, 'b.route.yaml'), join(folder, 'b.route.yaml'));
    for (const given of [[], ['b.route.yaml']]) {
      const { code, out } = await routewright(folder, ['check', '--fix', ...given]);
      expect(textOf(outside, 'b.route.yaml')).toBe(misspelt);
      expect(out).toContain('it leads out of the folder');
      expect(code).toBe(2);
    }
  });

  test('through a link within the folder it writes the file and keeps the link', async () => {
    const folder = folderOf({ 'kept/b.txt': misspelt });
    symlinkSync('kept/b.txt', join(folder, 'b.route.yaml'));
    await routewright(folder, ['check', '--fix', 'b.route.yaml']);
    expect(textOf(folder, 'kept/b.txt')).toBe(route);
    expect(lstatSync(join(folder, 'b.route.yaml')).isSymbolicLink()).toBe(true);
  });

  test('keeps stdout to JSON and tells the edits on stderr', async () => {
    const folder = folderOf({ 'a.route.yaml': misspelt });
    const { out, err } = await routewright(folder, ['check', '--fix', '--json']);
    expect(JSON.parse(out)).toEqual({ findings: [] });
    expect(err).toContain('2 edits made.');
  });

  test('without --fix nothing is written', async () => {
    const folder = folderOf({ 'a.route.yaml': misspelt });
    await routewright(folder, ['check']);
    expect(textOf(folder, 'a.route.yaml')).toBe(misspelt);
  });
});

describe('edits that should not be made', () => {
  /** A finding whose fix puts `text` in the place of `old`. */
  const replacing = (uri: string, whole: string, old: string, text: string): Finding => {
    const start = whole.indexOf(old);
    const span = { uri, start, end: start + old.length };
    const fix = { ...span, title: `Change to ${text}`, text };
    return { ...span, code: 'x', severity: 'hint', message: '', related: [], fix };
  };

  async function loaded(folder: string) {
    const result = await loadFiles(placeOf(folder), []);
    if ('message' in result) throw new Error(result.message);
    const uri = result.select().files[0]!.uri;
    return { result, uri, current: () => result.workspace.file(uri)!.reading.text };
  }

  test('an edit after which the file reads worse is taken back', async () => {
    const folder = folderOf({ 'a.route.yaml': route });
    const { result, uri } = await loaded(folder);
    const { mended } = await applyFixes(result, () => [
      replacing(uri, route, '[crate-vault]', '[crate-vault'),
    ]);
    expect(mended).toEqual([]);
    expect(textOf(folder, 'a.route.yaml')).toBe(route);
  });

  test('of two edits of one place only the first is made', async () => {
    const folder = folderOf({ 'a.route.yaml': route });
    const { result, uri } = await loaded(folder);
    let asked = 0;
    await applyFixes(result, () =>
      asked++ > 0 ? [] : [replacing(uri, route, 'any%', 'low%'), replacing(uri, route, 'ny%', 'll%')],
    );
    expect(textOf(folder, 'a.route.yaml')).toBe(route.replace('any%', 'low%'));
  });

  test('edits that undo each other come to an end', async () => {
    const folder = folderOf({ 'a.route.yaml': route });
    const { result, uri, current } = await loaded(folder);
    let asked = 0;
    await applyFixes(result, () => {
      asked++;
      const [old, text] = current().includes('any%') ? ['any%', 'low%'] : ['low%', 'any%'];
      return [replacing(uri, current(), old, text)];
    });
    expect(asked).toBeLessThan(10);
  });

  test('a file that was changed meanwhile is left alone, and what is said is what stands there', async () => {
    const folder = folderOf({ 'a.route.yaml': route });
    const { result, uri, current } = await loaded(folder);
    let asked = 0;
    const { mended, failed } = await applyFixes(result, () => {
      writeFileSync(join(folder, 'a.route.yaml'), `${route}# by hand\n`);
      return asked++ > 0 ? [] : [replacing(uri, route, 'any%', 'low%')];
    });
    expect(mended).toEqual([]);
    expect(failed).toHaveLength(1);
    expect(textOf(folder, 'a.route.yaml')).toBe(`${route}# by hand\n`);
    expect(current()).toBe(route);
  });
});

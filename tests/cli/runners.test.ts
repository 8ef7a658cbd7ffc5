import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Desk } from '../helpers/desk.ts';
import { folderOf, route, routewright, textOf } from './place.ts';

const log = (to: string, runner: string, landed: number) =>
  `route: ${to}\nrunner: ${runner}\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n` +
  `      - { technique: crate-vault, minutes: 25, landed: [${landed}, 150] }\n`;
const up = '../../lanternfall.route.yaml';
const own = 'lanternfall.practice.yaml';
const ada = 'runners/ada/lanternfall.practice.yaml';
const bo = 'runners/bo/lanternfall.practice.yaml';
/** A repository with a route, the files of one runner beside it, and two more runners with folders of their own. */
const repository = {
  '.git/HEAD': 'ref: refs/heads/main\n',
  'lanternfall.route.yaml': route,
  [own]: log('lanternfall.route.yaml', 'Cy', 75),
  'lanternfall.week.yaml': 'route: lanternfall.route.yaml\nrunner: Cy\ndays: { tue: 60, wed: 60 }\n',
  [ada]: log(up, 'Ada', 140),
  'runners/ada/lanternfall.week.yaml': `route: ${up}\nrunner: Ada\ndays: { tue: 25 }\n`,
  [bo]: log(up, 'Bo', 3),
};
const folder = folderOf(repository);

interface Ranking {
  readonly rows: readonly { readonly technique: string; readonly practiceNow: { readonly mean: number } }[];
}

/** The landing rate in practice of the technique that everybody practised, as a command ranks it. */
async function rate(...argv: string[]): Promise<number> {
  const { code, out, err } = await routewright(folder, ['rank', ...argv, '--all', '--json']);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  const { rows } = JSON.parse(out) as Ranking;
  return rows.find(({ technique }) => technique === 'crate-vault')!.practiceNow.mean;
}
/** The sentence of an answer that says whose logs count. */
async function whose(cwd: string, ...argv: string[]): Promise<string | undefined> {
  const { out } = await routewright(cwd, argv);
  return /The logs of \w+ count[^.]*\./.exec(out.replaceAll(/\s+/g, ' '))?.[0];
}

describe('a route with several runners', () => {
  test('is answered for the runner whose files lie beside it, and says so', async () => {
    const beside = 'The logs of Cy count: nobody else has files beside the route.';
    for (const command of ['rank', 'tonight', 'plan', 'odds', 'review', 'progress'])
      expect(await whose(folder, command, '.'), command).toBe(beside);
    expect(await whose(folder, 'rank')).toBe(beside);
    // Without the folders there is nobody else.
    expect(await whose(folder, 'rank', 'lanternfall.route.yaml')).toBeUndefined();
    expect(await rate('.')).toBe(await rate('lanternfall.route.yaml'));
  });

  test('is answered for the runner who is chosen, or whose folder or file is given', async () => {
    const [cy, chosen] = [await rate('.'), await rate('.', '--runner', 'Ada')];
    expect(chosen).toBeGreaterThan(cy);
    for (const place of ['runners/ada', 'runners/ada/', ada, 'runners/ada/lanternfall.week.yaml'])
      expect(await rate(place), place).toBe(chosen);
    expect(await rate('runners/bo')).toBeLessThan(cy);
    expect(await rate('.', 'runners/bo')).toBe(cy);
    expect(await whose(folder, 'rank', '.', '--runner', 'Ada')).toBe('The logs of Ada count, as chosen.');
    expect(await whose(folder, 'tonight', 'runners/ada')).toBe(
      'The logs of Ada count: they were asked about.',
    );
    const missing = await routewright(folder, ['rank', 'runners/ada', '--runner', 'Di']);
    expect(missing.code).toBe(2);
    expect(missing.err).toContain('No log here names the runner Di.');
  });

  test('is answered for the runner in whose folder the command runs', async () => {
    const there = join(folder, 'runners/ada');
    expect(await whose(there, 'rank')).toBe('The logs of Ada count: they were asked about.');
    const { out } = await routewright(there, ['rank', '--all', '--json']);
    const { rows } = JSON.parse(out) as Ranking;
    expect(rows.find(({ technique }) => technique === 'crate-vault')!.practiceNow.mean).toBe(
      await rate('.', '--runner', 'Ada'),
    );
  });

  test('is answered for nobody where the folders of several are given, and not for somebody else', async () => {
    for (const [cwd, argv] of [
      [folder, ['runners']],
      [folder, ['runners/ada', 'runners/bo']],
      [join(folder, 'runners'), []],
    ] as const) {
      const { code, err } = await routewright(cwd, ['rank', ...argv]);
      expect(code).toBe(2);
      expect(err).toMatch(/^The logs hold several runners: Ada, Bo( and|,) ?\w*.* Name one: --runner Ada/);
    }
    expect((await routewright(folder, ['rank', 'runners', '--runner', 'Bo'])).code).toBe(0);
  });

  test('has no finding for that', async () => {
    for (const place of ['.', 'runners/ada', 'runners'])
      expect((await routewright(folder, ['check', place])).out, place).not.toContain('runner');
  });

  test('is not looked for above a folder that is in no repository', async () => {
    const files = Object.entries(repository).filter(([name]) => !name.startsWith('.git'));
    const { code, err } = await routewright(folderOf(Object.fromEntries(files)), ['rank', 'runners/ada']);
    expect(code).toBe(2);
    expect(err).toContain('There is no route in runners/ada.');
    expect(err).toContain('outside');
  });

  test('is not looked for outside the repository of that folder', async () => {
    const around = folderOf({
      'secret.route.yaml': route.replace('saves: 3.2', 'saves: 3.2, secret: 1'),
      'mine/.git/HEAD': 'ref: refs/heads/main\n',
      'mine/runners/ada/a.practice.yaml': log('../../../secret.route.yaml', 'Ada', 9),
    });
    const { out } = await routewright(around, ['check', 'mine/runners/ada']);
    expect(out).toMatch(/a\.practice\.yaml:1:8 +error .*outside.*\[unknown-route\]/);
    expect(out).not.toContain('unknown-key');
    expect(out).toContain('1 file checked');
  });
});

describe('what is logged', () => {
  const counted = ['--landed', '7', '--tries', '9', '--minutes', '5'];
  const desk = () => new Desk(repository, '2026-10-06T19:30');
  /** The files of a desk that are other than at first. */
  const changed = ({ folder: place }: Desk) =>
    Object.entries(repository).flatMap(([name, text]) => (textOf(place, name) === text ? [] : [name]));

  test.each([
    [own, []],
    [own, ['.']],
    [own, ['lanternfall.route.yaml']],
    [ada, ['runners/ada']],
    [ada, [ada]],
    [ada, ['runners/ada/lanternfall.week.yaml']],
    [ada, ['--runner', 'Ada']],
    [bo, ['runners/bo']],
  ])('goes to %s and into no other file: log %j', async (file, place) => {
    const at = desk();
    const { code, out, err } = await at.log('crate-vault', ...place, ...counted);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toContain(`Into ${file}:`);
    expect(changed(at)).toEqual([file]);
    expect(at.text(file)).toContain('landed: [7, 9]');
    // The second time it is known from the first where it goes.
    await at.log('wall-kick', ...place, ...counted);
    expect(changed(at)).toEqual([file]);
  });

  test('goes to nobody where it is not known to whom', async () => {
    const at = desk();
    const { code, err } = await at.log('crate-vault', 'runners', ...counted);
    expect(code).toBe(2);
    expect(err).toContain('The logs hold several runners');
    expect(changed(at)).toEqual([]);
  });

  test('begins a log in the folder of the runner where there is none of its kind', async () => {
    const at = desk();
    const run = ['--run', '--total', '3:41.2', '--tried', 'crate-vault=1/1'];
    expect((await at.log('runners/bo', ...run)).code).toBe(0);
    expect(changed(at)).toEqual([]);
    expect(at.text('runners/bo/lanternfall.runs.yaml')).toMatch(
      /^route: "\.\.\/\.\.\/lanternfall\.route\.yaml"\nrunner: Bo\nruns:\n/,
    );
    expect(existsSync(join(at.folder, 'lanternfall.runs.yaml'))).toBe(false);
    expect((await routewright(at.folder, ['check', '.'])).out).not.toContain('error');
    // A newcomer has a week file and nothing else.
    const first = new Desk(
      { ...repository, 'runners/di/lanternfall.week.yaml': `route: ${up}\nrunner: Di\n` },
      '2026-10-06T19:30',
    );
    await first.log('crate-vault', 'runners/di', ...counted);
    expect(changed(first)).toEqual([]);
    expect(first.text('runners/di/lanternfall.practice.yaml')).toContain('runner: Di\n');
  });
});

/** A printed answer is printed again only while all that it was made from is as it was. */
import { createHash } from 'node:crypto';
import { appendFileSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import { describe, expect, test } from 'vitest';
import { folderOf, practice, route, routewright, type Said, type Terminal } from './place.ts';

const own = 'lanternfall.route.yaml';
const log = 'lanternfall.practice.yaml';
const mark = 'printed by an earlier process\n';

/** A folder with a repository in it, and what is kept of it. */
class Place {
  readonly folder = folderOf({
    '.git/HEAD': '',
    'routes/lanternfall.route.yaml': route,
    'routes/lanternfall.practice.yaml': practice,
  });
  readonly cache = folderOf({});
  readonly state = folderOf({});
  readonly routes = join(this.folder, 'routes');

  ask(argv: readonly string[], terminal: Terminal = {}, cache = this.cache): Promise<Said> {
    const env = { ROUTEWRIGHT_CACHE_HOME: cache, ROUTEWRIGHT_STATE_HOME: this.state, ...terminal.env };
    return routewright(this.routes, argv, { now: '2026-10-08T12:00', ...terminal, env });
  }

  /** Asks once, and writes a mark into the printed answer that is kept, so that it can be told from one made anew. */
  async keep(argv: readonly string[], terminal: Terminal = {}): Promise<void> {
    await this.ask(argv, terminal);
    const answers = join(this.cache, 'routewright/answers');
    for (const name of readdirSync(answers)) {
      const kept: unknown = deserialize(readFileSync(join(answers, name)).subarray(32));
      if (typeof kept !== 'object' || kept === null || !('looks' in kept)) continue;
      const payload = serialize({ ...kept, out: mark });
      writeFileSync(
        join(answers, name),
        Buffer.concat([createHash('sha256').update(payload).digest(), payload]),
      );
    }
  }
}

const commands: readonly (readonly string[])[] = [
  ['rank'],
  ['rank', own],
  ['rank', '.', '--json'],
  ['plan', own],
  ['tonight', '.'],
  ['review', own],
  ['progress', own],
  ['odds', log],
  ['check'],
  ['check', '..', '--json'],
];

const some = commands.filter(([name]) => name === 'odds' || name === 'check');

describe.each(commands.map((argv) => [argv.join(' '), argv] as const))('%s', (_, argv) => {
  test('is printed again while nothing changes, until the day ends', async () => {
    const place = new Place();
    await place.keep(argv);
    const again = await place.ask(argv, { now: '2026-10-08T23:59' });
    expect(again.out).toBe(mark);
    expect(again.err).toBe('');
    const tomorrow = { now: '2026-10-09T12:00' };
    expect((await place.ask(argv, tomorrow)).out).toBe((await place.ask(argv, tomorrow, '/dev/null')).out);
  });
});

describe.each(some.map((argv) => [argv.join(' '), argv] as const))('%s', (_, argv) => {
  test.each<readonly [what: string, change: (place: Place) => void]>([
    ['an entry more in the log', (place) => edit(place, log, `${practice}${oneMore}`)],
    ['another spelling of the log', (place) => edit(place, log, `${practice}# done\n`)],
    ['a change in the route', (place) => edit(place, own, route.replace('saves: 3.2', 'saves: 3.3'))],
    ['a second log beside it', (place) => edit(place, 'more.practice.yaml', `route: ${own}\nsessions: []\n`)],
    ['a week file', (place) => edit(place, 'lanternfall.week.yaml', `route: ${own}\ndays: { wed: 60 }\n`)],
    ['no log any more', (place) => rmSync(join(place.routes, log))],
  ])('is made anew after %s', async (_what, change) => {
    const place = new Place();
    await place.keep(argv);
    change(place);
    const anew = await place.ask(argv);
    expect(anew).toEqual(await place.ask(argv, {}, '/dev/null'));
    expect(anew.out).not.toBe(mark);
  });

  test.each<readonly [what: string, terminal: Terminal]>([
    ['a narrow terminal', { isTTY: true, columns: 40 }],
    ['colour', { env: { FORCE_COLOR: '1' } }],
    ['a terminal without UTF-8', { env: { LC_ALL: 'C' } }],
  ])('is made anew for %s', async (_what, terminal) => {
    const place = new Place();
    await place.keep(argv);
    expect((await place.ask(argv, terminal)).out).toBe((await place.ask(argv, terminal, '/dev/null')).out);
  });
});

const oneMore = `  - start: 2026-10-07T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [70, 150] }
`;

function edit({ routes }: Place, name: string, text: string): void {
  writeFileSync(join(routes, name), text);
}

test('the day begins when the week file says', async () => {
  const place = new Place();
  edit(place, 'lanternfall.week.yaml', `route: ${own}\nday_starts: "04:00"\n`);
  await place.keep(['rank', own], { now: '2026-10-08T23:00' });
  expect((await place.ask(['rank', own], { now: '2026-10-09T03:59' })).out).toBe(mark);
  expect((await place.ask(['rank', own], { now: '2026-10-09T04:00' })).out).toContain('2026-10-09');
});

test('a route that is extended counts, wherever it is', async () => {
  const place = new Place();
  edit(place, '../base.route.yaml', route);
  edit(place, own, 'extends: ../base.route.yaml\ngame: Lanternfall\ncategory: low%\n');
  await place.keep(['rank', own]);
  expect((await place.ask(['rank', own])).out).toBe(mark);
  edit(place, '../base.route.yaml', route.replace('Crate vault', 'Crate hop'));
  expect((await place.ask(['rank', own])).out).toContain('Crate hop');
});

test('a day that was asked for is the same tomorrow', async () => {
  const place = new Place();
  const argv = ['rank', own, '--as-of', '2026-10-08'];
  await place.keep(argv);
  expect((await place.ask(argv, { now: '2026-11-30T12:00' })).out).toBe(mark);
});

test('what waits in a journal is said, whatever is kept', async () => {
  const place = new Place();
  await place.keep(['rank', own]);
  const { code } = await place.ask(['log', 'crate-vault', own, '--start']);
  expect(code).toBe(0);
  await place.ask(['log', '--landed', own]);
  for (let i = 0; i < 2; i++) {
    const { out, err } = await place.ask(['rank', own]);
    expect(err).toContain('Not counted here');
    expect(out).not.toBe(mark);
  }
});

test('errors in the files are said each time', async () => {
  const place = new Place();
  appendFileSync(join(place.routes, log), '  - start: tomorrow\n');
  for (let i = 0; i < 2; i++) expect((await place.ask(['rank', own])).err).toContain('error');
});

test('a route that comes nearer than the one found is seen, and so is a name that is nearly right', async () => {
  const place = new Place();
  mkdirSync(join(place.routes, 'deep'));
  await place.keep(['check']);
  edit(place, 'deep/new.route.yaml', 'game: G\n');
  expect((await place.ask(['check'])).out).toContain('deep/new.route.yaml');
  rmSync(join(place.routes, 'deep/new.route.yaml'));
  await place.keep(['check']);
  edit(place, 'lanternfall.routes.yaml', route);
  expect((await place.ask(['check'])).out).toContain('lanternfall.routes.yaml');
});

test('a calendar is written each time', async () => {
  const place = new Place();
  edit(place, 'lanternfall.week.yaml', `route: ${own}\ndays: { wed: 60, thu: 60, fri: 60 }\n`);
  const argv = ['plan', own, '--ics', 'week.ics'];
  await place.ask(argv);
  rmSync(join(place.routes, 'week.ics'));
  await place.ask(argv);
  expect(readFileSync(join(place.routes, 'week.ics'), 'utf8')).toContain('BEGIN:VCALENDAR');
});

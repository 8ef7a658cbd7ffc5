import { execFileSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  realpathSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { practice, route } from './smallRoute.ts';

/** What stands in the file outside: no answer may hold it. */
export const secret = 'hunter-of-lanterns';

export interface StrangeFolder {
  readonly folder: string;
  /** The folder outside, to which links lead. */
  readonly outside: string;
  remove(): void;
}

/** The files that must not be read, with a word of the reason. */
export const unreadable: Readonly<Record<string, string>> = {
  'zero.practice.yaml': '/dev/zero',
  'zero.route.yaml': '/dev/zero',
  'pipe.runs.yaml': 'a pipe',
  'sparse-1.practice.yaml': '1,900 MB',
  'sparse-2.practice.yaml': '1,900 MB',
  'sparse-3.practice.yaml': '1,900 MB',
  'sparse-4.practice.yaml': '1,900 MB',
  'out.practice.yaml': 'it leads out of the folder',
  'chain.week.yaml': 'it leads out of the folder',
  'folder.runs.yaml': 'a folder',
  'loop.practice.yaml': 'a link that leads to itself',
};

/**
 * A folder such as somebody could hand out: a route with its log, a log that is a link within the folder, and beside
 * them everything that bears the name of a log and is none.
 */
export function strangeFolder(): StrangeFolder {
  const place = realpathSync(mkdtempSync(join(tmpdir(), 'routewright-strange-')));
  const folder = join(place, 'given');
  const outside = join(place, 'outside');
  for (const each of [folder, outside, join(folder, 'kept')]) mkdirSync(each);
  const at = (name: string) => join(folder, name);
  writeFileSync(at('lanternfall.route.yaml'), route);
  writeFileSync(at('lanternfall.practice.yaml'), practice);
  writeFileSync(at('kept/more.txt'), practice.replaceAll('2026-10', '2026-09'));
  symlinkSync('kept/more.txt', at('more.practice.yaml'));
  const key = `${secret}: { password: ${secret} }\n`;
  writeFileSync(join(outside, 'credentials'), `route: lanternfall.route.yaml\n${key}`);
  writeFileSync(join(outside, 'secret.route.yaml'), `game: ${secret}\n${key}`);
  symlinkSync(outside, at('below'));
  writeFileSync(at('through.runs.yaml'), 'route: below/secret.route.yaml\nruns: []\n');
  writeFileSync(at('above.runs.yaml'), 'route: ../outside/secret.route.yaml\nruns: []\n');
  writeFileSync(at('device.runs.yaml'), 'route: /dev/zero\nruns: []\n');
  symlinkSync('/dev/zero', at('zero.practice.yaml'));
  symlinkSync('/dev/zero', at('zero.route.yaml'));
  execFileSync('mkfifo', [at('pipe.runs.yaml')]);
  for (const n of [1, 2, 3, 4]) {
    writeFileSync(at(`sparse-${n}.practice.yaml`), 'route: lanternfall.route.yaml\nsessions: []\n');
    truncateSync(at(`sparse-${n}.practice.yaml`), 1_900_000_000);
  }
  symlinkSync(join(outside, 'credentials'), at('out.practice.yaml'));
  symlinkSync('below/credentials', at('chain.week.yaml'));
  symlinkSync(at('kept'), at('folder.runs.yaml'));
  symlinkSync('loop.practice.yaml', at('loop.practice.yaml'));
  // What an editor leaves beside a file that it has open: no finding is about a link to nothing.
  symlinkSync('somebody@somewhere.1', at('.#lanternfall.route.yaml'));
  return { folder, outside, remove: () => rmSync(place, { recursive: true, force: true }) };
}

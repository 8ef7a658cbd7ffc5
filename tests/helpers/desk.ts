import { commands } from '../../server/src/cli/commandList.ts';
import { parseArguments } from '../../server/src/cli/terminal/arguments.ts';
import { momentNow } from '../../server/src/journal/clock.ts';
import { log } from '../../server/src/cli/log/log.ts';
import { folderOf, route, textOf, type Said } from '../cli/place.ts';
import { SetClock } from '../journal/place.ts';

export const empty = 'route: lanternfall.route.yaml\nsessions: []\n';
export const started = { 'lanternfall.route.yaml': route, 'lanternfall.practice.yaml': empty };

/**
 * A runner's computer for a test: a folder with a route and its logs, a state folder, and a clock that the test sets.
 */
export class Desk {
  readonly folder: string;
  readonly state: string;
  readonly clock: SetClock;

  /** @param now what the clock shows at first */
  constructor(files: Readonly<Record<string, string>> = started, now = '2026-10-05T19:30') {
    this.clock = new SetClock(now);
    this.folder = folderOf(files);
    this.state = folderOf({});
  }

  /** Runs `routewright log` at the time of the test's clock. */
  async log(...argv: string[]): Promise<Said> {
    let out = '';
    let err = '';
    const parsed = parseArguments(['log', ...argv], commands);
    if (parsed.kind !== 'command') return { code: 2, out, err: 'message' in parsed ? parsed.message : '' };
    const io = {
      cwd: this.folder,
      env: { ROUTEWRIGHT_STATE_HOME: this.state },
      stdout: { write: (text: string) => void (out += text), isTTY: false },
      stderr: { write: (text: string) => void (err += text), isTTY: false },
      now: () => momentNow(this.clock),
    };
    return { code: await log(parsed.request, io, this.clock), out, err };
  }

  text(name = 'lanternfall.practice.yaml'): string {
    return textOf(this.folder, name);
  }
}

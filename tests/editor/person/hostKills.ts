import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Frame, Page } from 'playwright-core';
import { chance } from '../../arena/random.ts';
import { activeTab, openFile } from '../host/workbench.ts';
import { openPractice, practiceFrame, startBlock, takesKeys } from './practiceFrame.ts';
import { messages } from './sample.ts';

const WAIT = 120_000;
/** Kills during one block; one more kill follows while the block's end is being logged. */
const IN_A_BLOCK = 4;
/** Milliseconds between two presses, and from the last press to the kill, at most. */
const APART_MS = 45;
const LATE_MS = 60;

/** The result of the kills. */
export interface KillAccount {
  readonly kills: number;
  readonly pressed: number;
  /** Presses that were acknowledged to the view as written. */
  readonly acknowledged: number;
  /** Attempts in the saved file that were not acknowledged: their answer was lost with the process. */
  readonly unacknowledged: number;
}

/** The keys pressed between two kills, as a tape, and how many of them, from the first on, were acknowledged. */
interface Round {
  readonly tape: string;
  readonly acknowledged: number;
}

/**
 * Ends the editor's extension host with SIGKILL, again and again, while keys are pressed in the practice view, and
 * loads the window again each time. Then checks that every block is in the saved file once, and that its tape has, for
 * each round, all acknowledged presses in their order and nothing that was not pressed.
 *
 * @param kills how many; one in five of them while the block is being ended
 * @throws AssertionError where an attempt is lost, doubled or out of order
 */
export async function killHosts(kills: number, seed: number): Promise<KillAccount> {
  const { whole, between, next } = chance(seed);
  const sample = await openPractice({
    files: { 'lanternfall.practice.yaml': 'route: lanternfall.route.yaml\nsessions: []\n' },
  });
  const { page, folder, state } = sample;
  const file = join(folder, 'lanternfall.practice.yaml');
  const account = { kills: 0, pressed: 0, acknowledged: 0, unacknowledged: 0 };
  try {
    for (let blocks = 1; account.kills < kills; blocks += 1) {
      let frame = await startBlock(page, 'Crate vault');
      const rounds: Round[] = [];
      while (account.kills < kills && rounds.length < IN_A_BLOCK) {
        const tape = Array.from({ length: whole(4, 24) }, () => (next() < 0.5 ? 'l' : 'm')).join('');
        const round = await pressUntilKilled(page, frame, tape, () => pause(between(0, LATE_MS)), state);
        rounds.push(round);
        account.kills += 1;
        frame = await reloadWindow(page);
        await frame.locator('h1').click();
        await takesKeys(frame);
      }
      await page.keyboard.press('e');
      if (account.kills < kills) {
        await pause(between(0, LATE_MS));
        killHost(state);
        account.kills += 1;
        frame = await reloadWindow(page);
        if ((await frame.locator('#actions').isVisible()) && (await phaseOf(frame)) !== 'rest') {
          await frame.locator('h1').click();
          await takesKeys(frame);
          await page.keyboard.press('e');
        }
      }
      await frame.locator('#practice[data-phase^="rest"]').waitFor({ timeout: WAIT });
      await frame.locator('#close').click();
      const tapes = await savedTapes(page, file, blocks);
      assert.equal(tapes.length, blocks, `${blocks} blocks were logged, and the file has ${tapes.length}.`);
      const extra = countUnacknowledged(tapes.at(-1) ?? '', rounds);
      account.pressed += rounds.reduce((sum, { tape }) => sum + tape.length, 0);
      account.acknowledged += rounds.reduce((sum, { acknowledged }) => sum + acknowledged, 0);
      account.unacknowledged += extra;
    }
    return account;
  } finally {
    await sample.close();
  }
}

/** Reloads the window, as a person does when nothing answers, and continues the block as the extension offers. */
export async function reloadWindow(page: Page): Promise<Frame> {
  await page.reload({ waitUntil: 'domcontentloaded' });
  const show = messages(page).getByText('Show It');
  const shown = practiceFrame(page);
  // Where the editor did not restore the view, the extension asks in a message.
  const asked = show.first().click({ timeout: WAIT });
  await Promise.race([shown, asked.catch(() => undefined)]);
  asked.catch(() => undefined);
  return shown;
}

async function phaseOf(frame: Frame): Promise<string> {
  return (await frame.locator('#practice').getAttribute('data-phase')) ?? '';
}

/** Presses a tape and kills the extension host with the last press or soon after it. */
async function pressUntilKilled(
  page: Page,
  frame: Frame,
  tape: string,
  late: () => Promise<void>,
  state: string,
): Promise<Round> {
  await takesKeys(frame);
  // The page records the answers that it received, in the order of the presses.
  await frame.evaluate(`
    window.answers = [];
    window.addEventListener('message', ({ data }) => {
      if (data?.type === 'answered') window.answers.push(data.written);
    });
  `);
  for (const letter of tape) {
    await page.keyboard.press(letter);
    await pause(APART_MS);
  }
  await late();
  killHost(state);
  // Messages that the process sent before it ended may still arrive.
  await pause(200);
  const answers = await frame.evaluate<boolean[]>('window.answers');
  assert.ok(
    answers.every((written) => written),
    'A press was answered with a no.',
  );
  return { tape, acknowledged: answers.length };
}

/** Ends the extension host that has the journal open: the marker in the journal names the process. */
export function killHost(state: string): void {
  const journals = join(state, 'routewright', 'journal');
  const pids = readdirSync(journals, { recursive: true, encoding: 'utf8' })
    .filter((name) => /editors[\\/].*\.json$/.test(name))
    .sort()
    .map((name) => (JSON.parse(readFileSync(join(journals, name), 'utf8')) as { pid: number }).pid);
  const live = pids.filter(runs);
  const [pid] = live;
  assert.ok(pid !== undefined, 'No extension host has the journal open.');
  for (const one of new Set(live)) process.kill(one, 'SIGKILL');
}

function runs(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

/** Saves the practice file when it holds `blocks` blocks, and reads their tapes from the disk. */
async function savedTapes(page: Page, file: string, blocks: number): Promise<string[]> {
  await openFile(page, 'lanternfall.practice.yaml');
  const end = Date.now() + WAIT;
  for (;;) {
    await page.keyboard.press('Control+S');
    await activeTab(page).and(page.locator(':not(.dirty)')).waitFor({ timeout: WAIT });
    const tapes = [...readFileSync(file, 'utf8').matchAll(/tape: "?([lm]+)/g)].map(([, tape]) => tape ?? '');
    if (tapes.length >= blocks || Date.now() > end) return tapes;
    await pause(500);
  }
}

/**
 * How many attempts of a block's tape were never acknowledged. Throws where the tape does not match the pressed keys.
 */
function countUnacknowledged(tape: string, rounds: readonly Round[]): number {
  // The places in the tape where a round may end: some rounds have more written attempts than acknowledged ones.
  let ends = new Map([[0, 0]]);
  for (const { tape: pressed, acknowledged } of rounds) {
    const further = new Map<number, number>();
    for (const [from, extra] of ends)
      for (let length = acknowledged; length <= pressed.length; length += 1)
        if (tape.startsWith(pressed.slice(0, length), from) && !further.has(from + length))
          further.set(from + length, extra + length - acknowledged);
    ends = further;
  }
  const extra = ends.get(tape.length);
  const said = rounds.map((round) => `${round.tape.slice(0, round.acknowledged)}(${round.tape})`).join(' ');
  assert.ok(extra !== undefined, `The tape ${tape} is not what was acknowledged (and pressed): ${said}`);
  return extra;
}

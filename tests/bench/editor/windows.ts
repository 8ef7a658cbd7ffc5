/**
 * Windows of the real editor, one after the other, each used like this: a file with a mistake is open from the start,
 * a list is asked for, a page is opened beside the text, keys are pressed in the text.
 */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { installHost } from '../../editor/host/install.ts';
import { openSession } from '../../editor/host/session.ts';
import { goTo, openFile } from '../../editor/host/workbench.ts';
import { copyData } from '../../editor/stage.ts';
import { root } from '../servers.ts';
import { forget, lastChange, lastKey, watch, whenSeen, type Sight } from './watch.ts';

/** What is measured in a window, in milliseconds, in the order in which a person meets it. */
export type Measured =
  'text' | 'mark' | 'lines' | 'list' | 'listAgain' | 'paint' | 'settled' | 'wordKey' | 'numberKey';

/** The times of one window; what it does not have is left out. */
export type WindowTimes = Readonly<Partial<Record<Measured, number>>>;

const settings = {
  // The day after the sample's last log.
  'routewright.today': 'last',
  'editor.minimap.enabled': false,
  'workbench.hover.delay': 60_000,
};
const squiggle: Sight = { selector: '.squiggly-error, .squiggly-warning' };
const text: Sight = { selector: '.editor-instance .view-line', text: '\\S' };
const listRow = '.quick-input-widget .quick-input-list .monaco-list-row';
/** Milliseconds in which a window comes to rest after what was measured before. */
const restMs = 1500;

async function inWindow(
  folder: string,
  extension: string | undefined,
  file: string,
  sights: Readonly<Record<string, Sight>>,
  changing: string,
  use: (page: Page, opened: number) => Promise<WindowTimes>,
): Promise<WindowTimes> {
  const session = await openSession({
    host: await installHost(),
    extensionPaths: extension === undefined ? [] : [extension],
    workspace: folder,
    openFile: join(folder, file),
    trustEverything: true,
    settings,
    prepare: (page) => watch(page, sights, changing),
  });
  try {
    const { page } = session;
    return await use(page, await page.evaluate<number>('performance.timeOrigin'));
  } finally {
    await session.close();
  }
}

async function inFolder(
  files: Readonly<Record<string, string>>,
  use: (folder: string) => Promise<WindowTimes>,
): Promise<WindowTimes> {
  const folder = await mkdtemp(join(tmpdir(), 'bench-editor-'));
  try {
    await copyData(join(root, 'samples'), folder);
    for (const [name, written] of Object.entries(files)) await writeFile(join(folder, name), written);
    return await use(folder);
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  }
}

const routeFile = 'lanternfall.route.yaml';

/** The sample's route with a mistyped key in a line that is in sight from the start. */
async function mistaken(): Promise<string> {
  const written = await readFile(join(root, 'samples', routeFile), 'utf8');
  return written.replace(/^restart:/m, 'restrt:');
}

/** A window with the extension, on the sample. */
export async function ownWindow(): Promise<WindowTimes> {
  const route = await mistaken();
  const sights = {
    text,
    mark: squiggle,
    lines: { selector: '.codelens-decoration', text: 'Expected' },
    list: { selector: listRow, text: 's per hour' },
    paint: { selector: '#panel .route' },
    settled: { selector: '#view[aria-busy="false"]', text: '\\S' },
  };
  return inFolder({ [routeFile]: route }, (folder) =>
    inWindow(folder, root, routeFile, sights, '#view', async (page, opened) => {
      const shown = (await whenSeen(page, 'text')).at;
      const mark = (await whenSeen(page, 'mark')).at - shown;
      const lines = (await whenSeen(page, 'lines')).at - shown;
      await page.waitForTimeout(restMs);
      await page.locator('.editor-instance .view-line').first().click();
      const rank = async (): Promise<number> => {
        await forget(page, 'list');
        await page.keyboard.press('Control+K');
        await page.keyboard.press('N');
        const asked = await lastKey(page);
        const { at } = await whenSeen(page, 'list');
        await page.keyboard.press('Escape');
        return at - asked;
      };
      const list = await rank();
      await page.waitForTimeout(restMs);
      const listAgain = await rank();
      await page.waitForTimeout(restMs);
      await page.keyboard.press('Control+K');
      await page.keyboard.press('V');
      const asked = await lastKey(page);
      const { at: painted, frame } = await whenSeen(page, 'paint');
      const settled = (await whenSeen(page, 'settled')).at - asked;
      await frame.getByRole('tab', { name: 'Ranking' }).click();
      await page.waitForTimeout(restMs);
      const first = (await frame.locator('.ranked').first().getAttribute('data-key')) ?? '';
      await page.keyboard.press('Control+1');
      const follow = async (key: string, entry: string): Promise<number> => {
        await goTo(page, ...endOf(route, first, entry));
        await page.waitForTimeout(restMs);
        await page.keyboard.press(key);
        const pressed = await lastKey(page);
        return (await lastChange(frame, pressed)) - pressed;
      };
      return {
        text: shown - opened,
        mark,
        lines,
        list,
        listAgain,
        paint: painted - asked,
        settled,
        wordKey: await follow('x', 'name:'),
        numberKey: await follow('1', 'saves:'),
      };
    }),
  );
}

/** Line and column behind the value of a key of a technique, from 1. */
function endOf(route: string, technique: string, key: string): [number, number] {
  const lines = route.split('\n');
  const from = lines.findIndex((line) => line.startsWith(`  ${technique}:`));
  const at = lines.findIndex((line, index) => index > from && line.includes(key));
  const line = lines[at] ?? '';
  const end =
    key === 'saves:' ? (/saves: [\d.]+/.exec(line)?.[0].length ?? 0) + line.indexOf(key) : line.length;
  return [at + 1, end + 1];
}

/** A window without the extension, on the same route. */
export function bareWindow(): Promise<WindowTimes> {
  return mistaken().then((route) =>
    inFolder({ [routeFile]: route }, (folder) =>
      inWindow(folder, undefined, routeFile, { text }, 'none', async (page, opened) => ({
        text: (await whenSeen(page, 'text')).at - opened,
      })),
    ),
  );
}

/** A window with what the editor brings for JSON and Markdown: a mistake, the list of symbols, the preview. */
export function builtInWindow(): Promise<WindowTimes> {
  const json = '{\n  "game": Lanternfall,\n  "category": "any%"\n}\n';
  const notes = `# Lanternfall\n\n${'A line about the route, and another one.\n\n'.repeat(40)}`;
  const sights = {
    text,
    mark: squiggle,
    list: { selector: listRow, text: 'category' },
    paint: { selector: '.markdown-body', text: 'A line about' },
  };
  return inFolder({ 'one.json': json, 'notes.md': notes }, (folder) =>
    inWindow(folder, undefined, 'one.json', sights, '.markdown-body', async (page, opened) => {
      const shown = (await whenSeen(page, 'text')).at;
      const mark = (await whenSeen(page, 'mark')).at - shown;
      await page.waitForTimeout(restMs);
      await page.locator('.editor-instance .view-line').first().click();
      await page.keyboard.press('Control+Shift+O');
      const list = (await whenSeen(page, 'list')).at - (await lastKey(page));
      await page.keyboard.press('Escape');
      await openFile(page, 'notes.md');
      await page.waitForTimeout(restMs);
      await page.keyboard.press('Control+K');
      await page.keyboard.press('V');
      const asked = await lastKey(page);
      const { at: painted, frame } = await whenSeen(page, 'paint');
      await page.keyboard.press('Control+1');
      await goTo(page, 3, 7);
      await page.waitForTimeout(restMs);
      await page.keyboard.press('x');
      const pressed = await lastKey(page);
      const wordKey = (await lastChange(frame, pressed)) - pressed;
      return { text: shown - opened, mark, list, paint: painted - asked, wordKey };
    }),
  );
}

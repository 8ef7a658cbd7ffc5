/**
 * Measures the panel in the real editor: `npx tsx tests/editor/panelSpeed.ts`, after a build with --minify.
 *
 * Two times: from a key pressed in the file until the panel shows the change, and from the command until the panel is
 * filled. Both on the sample and on a route of 200 techniques with 2,000 blocks of practice; the edits change a name,
 * or a number that the model uses.
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Frame, Page } from 'playwright-core';
import { makeLoggedRoute } from '../bench/ranking.ts';
import { quantile } from '../bench/samples.ts';
import { describeFailure } from './host/problem.ts';
import { goTo, openFile, pickInput, pickRows } from './host/workbench.ts';
import { chooseView, panelFrame, settled } from './person/panelFrame.ts';
import { openSample, ROOT } from './person/sample.ts';

const ROUNDS = Number(process.env['ROUNDS'] ?? 20);

/** Records, in the panel's page, when the first row's text or its numbers change. */
const WATCH = `(() => {
  window.seen = [];
  new MutationObserver(() => window.seen.push(Date.now()))
    .observe(document.querySelector('.ranking'), { subtree: true, childList: true, characterData: true, attributes: true });
})()`;

/** Milliseconds from each key to its change in the panel. */
async function follow(page: Page, frame: Frame, keys: string): Promise<number[]> {
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    await settled(frame);
    await page.waitForTimeout(700);
    await frame.evaluate('window.seen = []');
    const from = Date.now();
    await page.keyboard.press(round % 2 === 0 ? keys : 'Backspace');
    while ((await frame.evaluate<number>('window.seen.length')) === 0) await page.waitForTimeout(10);
    await settled(frame);
    await page.waitForTimeout(100);
    const seen = await frame.evaluate<number[]>('window.seen');
    times.push((seen.at(-1) ?? NaN) - from);
  }
  return times;
}

function report(what: string, times: readonly number[]): void {
  const figure = (share: number): string => quantile(times, share).toFixed(0).padStart(6);
  process.stdout.write(`${what.padEnd(52)}${figure(0.5)}${figure(0.95)}\n`);
}

async function measure(label: string, files: Readonly<Record<string, string>>, route: string): Promise<void> {
  const text = files[route] ?? (await readFile(join(ROOT, 'samples', route), 'utf8'));
  const sample = await openSample({ files });
  try {
    const { page } = sample;
    await openFile(page, route);
    await page.locator('.statusbar-item[id$="routewright.route"]').waitFor();
    await page.waitForTimeout(3000);
    await page.keyboard.press('F1');
    await pickInput(page).fill('>Routewright: Preview Week');
    await pickRows(page).first().waitFor();
    const from = Date.now();
    await page.keyboard.press('Enter');
    const frame = await panelFrame(page);
    report(`${label}: opened`, [Date.now() - from]);
    await settled(frame);
    report(`${label}: opened and worked out`, [Date.now() - from]);
    await chooseView(frame, 'Ranking');
    await frame.evaluate(WATCH);
    const first = (await frame.locator('.ranked').first().getAttribute('data-key')) ?? '';
    const lines = text.split('\n');
    const at = lines.findIndex((line) => line.startsWith(`  ${first}:`));
    const lineOf = (key: string): number => lines.findIndex((line, i) => i > at && line.includes(key));
    const name = lineOf('name:');
    const saves = lineOf('saves:');
    await page.locator('.tab').filter({ hasText: route }).click();
    await goTo(page, name + 1, (lines[name]?.length ?? 0) + 1);
    report(`${label}: a name`, await follow(page, frame, 'x'));
    const place = /saves: [\d.]*/.exec(lines[saves] ?? '');
    await goTo(page, saves + 1, (place?.index ?? 0) + (place?.[0].length ?? 0) + 1);
    report(`${label}: a number`, await follow(page, frame, '1'));
  } finally {
    await sample.close();
  }
}

async function main(): Promise<void> {
  const { texts } = makeLoggedRoute(7);
  process.stdout.write(`${'milliseconds'.padEnd(52)}${'median'.padStart(6)}${'p95'.padStart(6)}\n`);
  await measure('the sample', {}, 'lanternfall.route.yaml');
  const week = 'route: lanternfall.route.yaml\ndays: { mon: 100, tue: 100, wed: 75, thu: 50, fri: 100 }\n';
  await measure(
    'ten times the sample',
    {
      'lanternfall.route.yaml': texts.route,
      'lanternfall.practice.yaml': texts.practice,
      'lanternfall.runs.yaml': texts.runs,
      'lanternfall.week.yaml': week,
    },
    'lanternfall.route.yaml',
  );
}

try {
  await main();
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}

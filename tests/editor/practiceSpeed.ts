/**
 * Measures how long a key press in the practice view takes to be written to the journal and acknowledged: `npx tsx
 * tests/editor/practiceSpeed.ts`, after a build. The times are those that the view measures itself, from the key to the
 * answer, in the real editor; the same with an empty practice file and with one of 5 MB. For comparison, the time of a
 * press that writes nothing, because there is nothing to take back. That is the editor's own time from the view to the
 * extension and back, which no extension can shorten.
 */
import { describeFailure } from './host/problem.ts';
import { openPractice, startBlock } from './person/practiceFrame.ts';

const PRESSES = 300;
/** Milliseconds between two presses: faster than any person plays. */
const APART_MS = 60;
const HEAD = 'route: lanternfall.route.yaml\nsessions:\n';

function longFile(bytes: number): string {
  const parts = [HEAD];
  let length = HEAD.length;
  for (let day = 0; length < bytes; day += 1) {
    const date = new Date(Date.UTC(2020, 0, 1 + (day % 2000))).toISOString().slice(0, 10);
    const tape = 'lmmlllmlml'.repeat(40);
    const part = `  - start: ${date}T19:00\n    blocks:\n      - { technique: crate-vault, minutes: 25, tape: ${tape} }\n`;
    parts.push(part);
    length += part.length;
  }
  return parts.join('');
}

async function measure(name: string, practice: string): Promise<void> {
  const sample = await openPractice({ files: { 'lanternfall.practice.yaml': practice } });
  try {
    const frame = await startBlock(sample.page, 'Crate vault');
    await frame.locator('#actions').waitFor();
    const timesOf = async (kind: string): Promise<number[]> =>
      frame.evaluate<number[]>(`performance.getEntriesByName('${kind}').map(({ duration }) => duration)`);
    for (let at = 0; at < PRESSES; at += 1) {
      await sample.page.keyboard.press('Backspace');
      await sample.page.waitForTimeout(APART_MS);
    }
    tell(`${name}, nothing to write`, await timesOf('refused'));
    for (let at = 0; at < PRESSES; at += 1) {
      await sample.page.keyboard.press(at % 3 === 0 ? 'l' : 'm');
      await sample.page.waitForTimeout(APART_MS);
    }
    await frame
      .locator('#attempts')
      .filter({ hasText: new RegExp(`^${PRESSES}$`) })
      .waitFor();
    tell(`${name}, written`, await timesOf('attempt'));
  } finally {
    await sample.close();
  }
}

function tell(what: string, times: number[]): void {
  if (process.argv.includes('--all'))
    process.stdout.write(`${times.map((time) => time.toFixed(0)).join(' ')}\n`);
  times.sort((a, b) => a - b);
  const at = (share: number): string => (times[Math.ceil(share * times.length) - 1] ?? NaN).toFixed(1);
  process.stdout.write(
    `${what}: ${times.length} presses, median ${at(0.5)} ms, 95 % ${at(0.95)} ms, 99 % ${at(0.99)} ms, longest ${at(1)} ms\n`,
  );
}

try {
  await measure('empty practice file', 'route: lanternfall.route.yaml\nsessions: []\n');
  await measure('practice file of 5 MB', longFile(5_000_000));
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}

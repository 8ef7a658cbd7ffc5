/**
 * Writes tests/panel/fixtures/themes.json: the variables that the real editor gives its pages in each kind of theme.
 * `npx tsx tests/editor/themes.ts`, after a build; needed again
 * for another version of the editor host, and where a style uses another variable.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describeFailure } from './host/problem.ts';
import { openFile } from './host/workbench.ts';
import { openPanel } from './person/panelFrame.ts';
import { openSample, ROOT } from './person/sample.ts';

const themes = {
  light: 'Default Light Modern',
  dark: 'Default Dark Modern',
  'high-contrast': 'Default High Contrast',
  'high-contrast-light': 'Default High Contrast Light',
} as const;

/** The styles of all pages. */
const styles = [
  'base.css',
  'panel/panel.css',
  'practice/base.css',
  'practice/practice.css',
  'practice/run/run.css',
];

/** Runs in the panel's page: reads the variables that its style uses. */
const read = (names: readonly string[]): string => `({
  kind: document.body.className.split(' ').find((name) => name.startsWith('vscode-')) ?? '',
  variables: Object.fromEntries(${JSON.stringify(names)}
    .map((name) => [name, document.documentElement.style.getPropertyValue(name)])
    .filter(([, value]) => value !== '')),
})`;

async function main(): Promise<void> {
  const files = await Promise.all(styles.map((file) => readFile(join(ROOT, 'client', file), 'utf8')));
  const used = [...new Set(files.join('\n').match(/--vscode-[\w-]+/g) ?? [])].sort();
  const found: Record<string, unknown> = {};
  for (const [name, colorTheme] of Object.entries(themes)) {
    const sample = await openSample({ colorTheme });
    try {
      await openFile(sample.page, 'lanternfall.route.yaml');
      const frame = await openPanel(sample.page);
      found[name] = await frame.evaluate(read(used));
    } finally {
      await sample.close();
    }
  }
  await writeFile(join(ROOT, 'tests/panel/fixtures/themes.json'), `${JSON.stringify(found, null, 2)}\n`);
}

try {
  await main();
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}

// npm run bench [-- --quick] [--write] [--lines N] [--only WORD] [--save] [--compare] [--mistakes]
// [--editor [--windows N]] Measures this server and a general-purpose one by turns and prints a table; nothing is
// asserted. --only measures the groups that have the word in their name: `--only hover`, `--only years`. --mistakes
// makes another table instead: the findings of both servers for one mistake in a text; --editor a third: the extension
// in windows of the real editor, 10 of each kind where --windows is left out. --write puts the table that is made into
// tests/bench/README.md, --save saves the ratios of the first, --compare lists the ratios that got worse since then.
import { readFileSync, writeFileSync } from 'node:fs';
import { cpus, totalmem } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { writeBlock } from '../helpers/writeBlock.ts';
import { groupNames, measureAll, type Extent } from './benchmark.ts';
import { savedRows, worseRatios, type SavedRow } from './baseline.ts';
import { buildOwn } from './bundles.ts';
import { editorTable } from './editor/table.ts';
import { mistakesTable } from './mistakes.ts';
import { general } from './servers.ts';
import { tableOf } from './table.ts';

const full: Extent = {
  lines: [1_000, 10_000, 50_000],
  edits: 12,
  starts: 7,
  rankings: 7,
  questions: 6,
  lasting: { own: 3_600, general: 240 },
  years: 2,
  routes: 2_000,
  checks: 2,
  runners: 500,
  pools: 1,
};
const quick: Extent = {
  lines: [10_000],
  edits: 3,
  starts: 2,
  rankings: 2,
  questions: 2,
  lasting: { own: 600, general: 120 },
  years: 1,
  routes: 200,
  checks: 1,
  runners: 50,
  pools: 1,
};

const { values } = parseArgs({
  options: {
    quick: { type: 'boolean', default: false },
    write: { type: 'boolean', default: false },
    save: { type: 'boolean', default: false },
    compare: { type: 'boolean', default: false },
    lines: { type: 'string' },
    mistakes: { type: 'boolean', default: false },
    editor: { type: 'boolean', default: false },
    windows: { type: 'string', default: '10' },
    only: { type: 'string', default: '' },
  },
});
const baseline = join(import.meta.dirname, 'baseline.json');
const page = join(import.meta.dirname, 'README.md');
const chosen = values.quick ? quick : full;
const extent = values.lines === undefined ? chosen : { ...chosen, lines: [Number(values.lines)] };

if (extent.lines.some((lines) => !Number.isInteger(lines) || lines < 100)) {
  fail('--lines wants a whole number of at least 100.');
} else if (!/^[1-9]\d?$/.test(values.windows)) {
  fail('--windows wants a whole number from 1 to 99.');
} else if (!groupNames.some((name) => name.includes(values.only))) {
  fail(`--only wants a word of one of these: ${groupNames.join(', ')}.`);
} else if (values.only !== '' && (values.write || values.save)) {
  fail('A table that --only makes is neither written nor saved: it is a part. Leave one of them out.');
} else if (!buildOwn()) {
  fail('The server could not be built: see above. `node build.mjs --minify` builds it.');
} else if (values.mistakes) {
  const block = await mistakesTable(values.quick ? 4 : 12, (what) =>
    process.stderr.write(`making: ${what}\n`),
  );
  process.stdout.write(`${block}\n`);
  if (values.write) await writeBlock(page, 'mistakes', block);
} else if (values.editor) {
  const block = await editorTable(values.quick ? 2 : Number(values.windows), (what) =>
    process.stderr.write(`measuring: ${what}\n`),
  );
  process.stdout.write(`${block}\n`);
  if (values.write) await writeBlock(page, 'editor', block);
} else {
  const rows = await measureAll(extent, (what) => process.stderr.write(`measuring: ${what}\n`), values.only);
  const block = `${describe(extent)}\n\n${tableOf(rows)}`;
  process.stdout.write(`${block}\n`);
  if (values.write) await writeBlock(page, 'bench', block);
  if (values.compare) compare(savedRows(rows));
  if (values.save) writeFileSync(baseline, `${JSON.stringify(savedRows(rows), null, 2)}\n`);
}

/** The text above the table: the machine, and what the figures mean. */
function describe({ edits, starts, rankings }: Extent): string {
  const memory = Math.round(totalmem() / 2 ** 30);
  const machine = `${cpus().length} cores, ${memory} GB, ${process.arch}, Node ${process.version}, ${process.platform}`;
  return [
    `Machine: ${machine}. Medians [5 % to 95 %] of ${2 * edits} edits, ${starts} starts, ${rankings} rankings,`,
    'fewer where one takes seconds, taken by turns in one run; the ratio is the other figure over Routewright’s. An edit is one keystroke that makes',
    'a mistake, or the one that mends it, timed from the change sent to the diagnostics that tell of it.',
    `Both servers get the same JSON Schema, file, edits and LSP client. ${general.name} is a good general tool for any`,
    'YAML file; it waits 200 ms after an edit before it validates, so it is also shown with that wait taken out.',
    'Routewright also checks references and the run itself, for its five kinds of file only.',
  ].join('\n');
}

/** Prints what got worse since the ratios were saved; only lines that both tables have are compared. */
function compare(now: readonly SavedRow[]): void {
  const lines = worseRatios(JSON.parse(readFileSync(baseline, 'utf8')) as SavedRow[], now);
  const words =
    lines.length === 0 ? ['Nothing got worse than noise explains.'] : ['Worse than before:', ...lines];
  process.stdout.write(`\n${words.join('\n')}\n`);
}

function fail(message: string): void {
  process.stderr.write(`${message}\n`);
  process.exitCode = 2;
}

// Checks the routes of a repository and compares those that changed: the first step of action.yml, which describes the
// inputs. What it prints itself are fixed sentences and numbers; everything from files goes into the report, because the
// runner obeys lines of a step's output that look like its commands.
import { randomUUID } from 'node:crypto';
import { appendFileSync, existsSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { changedRoutes } from './changes.mjs';
import { routewright } from './command.mjs';
import { comparisonsReport } from './comparisons.mjs';
import { findingsOf, findingsReport } from './findings.mjs';
import { count, fenced } from './markdown.mjs';

const env = process.env;
const workspace = resolve(env.GITHUB_WORKSPACE ?? '.');
const folder = resolve(workspace, env.ROUTES_FOLDER || '.');
const temporary = env.RUNNER_TEMP || tmpdir();
const failOn = env.ROUTES_FAIL_ON || 'error';
const dayOption = env.ROUTES_AS_OF ? [`--as-of=${env.ROUTES_AS_OF}`] : [];
const base = env.ROUTES_BASE ?? '';
const sarifFile = resolve(workspace, env.ROUTES_SARIF || join(temporary, 'routes.sarif'));
const reportFile = join(temporary, 'routes.md');

const severity = `--fail-on=${failOn === 'never' ? 'error' : failOn}`;
const checked = await routewright(['check', '--sarif', severity, ...dayOption, '--', folder], workspace);
const findings = checked.out === '' ? [] : findingsOf(checked.out);
const parts = ['## Routes'];
if (checked.out === '') parts.push('The routes could not be checked.', fenced(checked.err));
else {
  write(sarifFile, checked.out);
  parts.push(findingsReport(findings));
  if (checked.err !== '') parts.push(fenced(checked.err));
}

let changed = 0;
if (base !== '' && existsSync(folder)) {
  const found = changedRoutes(folder, base);
  changed = found?.changes.length ?? 0;
  if (found) parts.push(await comparisonsReport(found, dayOption));
  else {
    parts.push('Changed routes were not compared: this clone does not hold the base revision.');
    print('::warning::Give actions/checkout `fetch-depth: 0`, so that changed routes can be compared.');
  }
}

const report = `${parts.join('\n\n')}\n`;
write(reportFile, report);
if (env.GITHUB_STEP_SUMMARY) appendFileSync(env.GITHUB_STEP_SUMMARY, report);
output('sarif', checked.out === '' ? '' : sarifFile);
output('report', reportFile);
output('findings', String(findings.length));
output('changed', String(changed));
print(`${count(findings.length, 'finding')}, ${count(changed, 'changed route')}: the job summary says more.`);
process.exitCode = failOn === 'never' && checked.exit === 1 ? 0 : checked.exit;

/**
 * Writes a file anew: a link that a repository put in its place is replaced, not followed.
 *
 * @param {string} file
 * @param {string} text
 */
function write(file, text) {
  rmSync(file, { force: true });
  writeFileSync(file, text, { flag: 'wx' });
}

/**
 * @param {string} name
 * @param {string} value any text: its end is a word that nobody can know
 */
function output(name, value) {
  if (!env.GITHUB_OUTPUT) return;
  const end = randomUUID();
  appendFileSync(env.GITHUB_OUTPUT, `${name}<<${end}\n${value}\n${end}\n`);
}

/** @param {string} sentence */
function print(sentence) {
  process.stdout.write(`${sentence}\n`);
}

import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type * as actionParser from '@actions/workflow-parser/actions/action-parser';
import type * as workflowParser from '@actions/workflow-parser';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { root } from './actionRun.ts';

const read = (path: string): string => readFileSync(join(root, path), 'utf8');
const actionFile = '.github/actions/check-routes/action.yml';
const workflows = (await readdir(join(root, '.github/workflows'))).map((name) => `.github/workflows/${name}`);

let parser: Pick<typeof workflowParser, 'NoOperationTraceWriter' | 'parseWorkflow'> &
  Pick<typeof actionParser, 'parseAction'>;
const folder = mkdtempSync(join(tmpdir(), 'routewright-schema-'));
beforeAll(async () => {
  // The package imports its schemas as JSON in a way that Node refuses, and a bundler does not.
  const outfile = join(folder, 'parser.mjs');
  const contents = `export { NoOperationTraceWriter, parseWorkflow } from '@actions/workflow-parser';
    export { parseAction } from '@actions/workflow-parser/actions/action-parser';`;
  await build({
    stdin: { contents, resolveDir: root },
    bundle: true,
    platform: 'node',
    format: 'esm',
    outfile,
  });
  parser = (await import(pathToFileURL(outfile).href)) as typeof parser;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** S: the schemas of workflows and actions and their parser, as the runner's makers publish them in an npm package. */
function faults(kind: 'action' | 'workflow', content: string): string[] {
  const { parseAction, parseWorkflow, NoOperationTraceWriter } = parser;
  const file = { name: `${kind}.yml`, content };
  const parsed = (kind === 'action' ? parseAction : parseWorkflow)(file, new NoOperationTraceWriter());
  return parsed.context.errors.getErrors().map(({ message }) => message);
}

interface Step {
  readonly run?: string;
  readonly uses?: string;
  readonly shell?: string;
  readonly env?: Readonly<Record<string, string>>;
  readonly with?: Readonly<Record<string, unknown>>;
}
interface Action {
  readonly inputs: Readonly<Record<string, { readonly description: string; readonly default: string }>>;
  readonly outputs: Readonly<Record<string, { readonly value: string }>>;
  readonly runs: { readonly using: string; readonly steps: readonly Step[] };
}
interface Workflow {
  readonly jobs: Readonly<Record<string, { readonly steps: readonly Step[] }>>;
}
const action = parse(read(actionFile)) as Action;
const jobs = workflows.flatMap((path) => Object.values((parse(read(path)) as Workflow).jobs));

describe('the action and the workflows', () => {
  it('are what the schemas allow', () => {
    expect(faults('action', read(actionFile))).toEqual([]);
    for (const path of workflows) expect(faults('workflow', read(path)), path).toEqual([]);
    // The check itself finds what is wrong.
    expect(faults('action', read(actionFile).replace('shell: bash', 'shel: bash'))).not.toEqual([]);
    expect(faults('action', read(actionFile).replace('inputs.folder', 'secrets.folder'))).not.toEqual([]);
    expect(faults('workflow', read(workflows[0]!).replace('runs-on', 'run-on'))).not.toEqual([]);
  });

  it('put no expression into a shell', () => {
    const steps = [...action.runs.steps, ...jobs.flatMap((job) => job.steps)];
    const scripts = steps.flatMap(({ run }) => run ?? []);
    expect(scripts.length).toBeGreaterThan(5);
    for (const script of scripts) expect(script).not.toContain('${{');
  });
});

describe('the action', () => {
  it('needs no other action, and every script that it starts exists', () => {
    for (const { run, uses, shell } of action.runs.steps) {
      expect({ uses, shell }).toEqual({ uses: undefined, shell: 'bash' });
      const [, script] = /"\$GITHUB_ACTION_PATH\/([^"]+)"/.exec(run!) ?? [];
      expect(existsSync(join(root, '.github/actions/check-routes', script!)), run).toBe(true);
    }
  });

  it('hands on each input, and every variable that a script reads is handed to it', () => {
    const given = action.runs.steps.flatMap(({ env }) => Object.entries(env ?? {}));
    for (const name of Object.keys(action.inputs).filter((each) => each !== 'comment'))
      expect(given.map(([, value]) => value)).toContain(`\${{ inputs.${name} }}`);
    const step = (script: string) => action.runs.steps.find(({ run }) => run!.includes(script))!;
    for (const [script, files] of [
      ['check.mjs', ['check.mjs', 'command.mjs', 'changes.mjs', 'comparisons.mjs', 'findings.mjs']],
      ['comment.mjs', ['comment.mjs']],
    ] as const) {
      const text = files.map((file) => read(`.github/actions/check-routes/${file}`)).join('\n');
      const asked = new Set(text.match(/ROUTES_[A-Z_]+/g));
      expect([...asked].sort()).toEqual(Object.keys(step(script).env!).sort());
    }
    // The token is a matter of the comment alone.
    expect(JSON.stringify(step('check.mjs'))).not.toContain('token');
  });

  it('promises the outputs that its script writes', () => {
    const written = read('.github/actions/check-routes/check.mjs').matchAll(/^output\('(\w+)'/gm);
    expect(Object.keys(action.outputs).sort()).toEqual([...written].map(([, name]) => name).sort());
    for (const [name, { value }] of Object.entries(action.outputs))
      expect(value).toBe(`\${{ steps.check.outputs.${name} }}`);
  });

  it('is used on the samples by the workflow, with the history that a comparison needs', () => {
    const job = jobs.find(({ steps }) =>
      steps.some(({ uses }) => uses === './.github/actions/check-routes'),
    )!;
    const [checkout] = job.steps;
    expect(checkout!.with).toMatchObject({ 'fetch-depth': 0, 'persist-credentials': false });
    const used = job.steps.find(({ uses }) => uses === './.github/actions/check-routes')!;
    expect(used.with).toMatchObject({ folder: 'samples' });
    for (const name of Object.keys(used.with!)) expect(action.inputs).toHaveProperty(name);
  });
});

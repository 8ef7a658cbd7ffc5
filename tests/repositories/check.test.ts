import { existsSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildCommand, type BuiltCommand } from '../helpers/builtCommand.ts';
import { makeHostile, repository, type Repository } from '../helpers/repository.ts';
import { practice, route } from '../helpers/smallRoute.ts';
import { runnerFolder, runStep, type Step } from './actionRun.ts';

const MarkdownIt = createRequire(import.meta.url)('markdown-it') as new (options: object) => {
  render(text: string): string;
};
/** A page as a code host shows it: with HTML, and addresses as links. */
const rendered = (text: string): string => new MarkdownIt({ html: true, linkify: true }).render(text);

/** What a reader of the page sees, without its tags. */
const seen = (text: string): string =>
  rendered(text)
    .replace(/<[^>]*>/g, '')
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&');

const faster = route.replace('1:32.4', '1:30.4');
const slower = route.replace('1:32.4', '1:33.4');

let command: BuiltCommand;
const made: { remove(): void }[] = [];
beforeAll(async () => {
  command = await buildCommand();
});
afterAll(async () => {
  await command.remove();
  for (const each of made) each.remove();
});

/** A repository whose first commit holds these files. */
function begun(files: Readonly<Record<string, string>>): { repo: Repository; base: string } {
  const repo = repository();
  made.push(repo);
  for (const [name, text] of Object.entries(files)) repo.write(name, text);
  repo.commit('Before');
  return { repo, base: repo.git('rev-parse', 'HEAD').trim() };
}

function check(repo: Repository, inputs: Readonly<Record<string, string>>): Promise<Step> {
  const folder = runnerFolder();
  made.push(folder);
  return runStep('check.mjs', folder.path, {
    GITHUB_WORKSPACE: repo.folder,
    ROUTES_COMMAND: command.script,
    ROUTES_AS_OF: 'last',
    ...inputs,
  });
}

describe('the step that checks', () => {
  it('says what each changed route gains or costs against where the branch left its base', async () => {
    const { repo } = begun({
      'a/lanternfall.route.yaml': route,
      'a/lanternfall.practice.yaml': practice,
      'b/tidewater.route.yaml': route,
      'b/former.route.yaml': route,
      'b/same.route.yaml': route,
      'b/moved.route.yaml': `${route}notes: The long way.\n`,
    });
    repo.git('checkout', '--quiet', '-b', 'change');
    repo.write('a/lanternfall.route.yaml', faster);
    repo.write('b/tidewater.route.yaml', slower);
    repo.write(
      'b/fresh.route.yaml',
      'game: Tidewater\ncategory: all lamps\nsegments: [{ id: pier, time: 12.4 }]\n',
    );
    repo.git('mv', 'b/moved.route.yaml', 'b/renamed.route.yaml');
    repo.git('rm', '--quiet', 'b/former.route.yaml');
    repo.commit('The change');
    // What the base gained meanwhile is no change of this branch.
    repo.git('checkout', '--quiet', 'main');
    repo.write('b/same.route.yaml', slower);
    repo.commit('Meanwhile');
    repo.git('checkout', '--quiet', 'change');

    const { code, log, summary, outputs } = await check(repo, { ROUTES_BASE: 'main' });
    expect({ code, log }).toEqual({
      code: 0,
      log: `${outputs['findings']} findings, 5 changed routes: the job summary says more.\n`,
    });
    const said = seen(summary);
    // By hand: the first segment is 2 s shorter, or 1 s longer.
    for (const line of [
      /a\/lanternfall\.route\.yaml\s+3:\d\d\.\d\s+3:\d\d\.\d\s+gains 2\.0 s\n/,
      /b\/tidewater\.route\.yaml\s+3:\d\d\.\d\s+3:\d\d\.\d\s+costs 1\.0 s\n/,
      /b\/fresh\.route\.yaml\s+·\s+·\s+new\n/,
      /b\/former\.route\.yaml\s+·\s+·\s+removed\n/,
      /b\/renamed\.route\.yaml\s+3:\d\d\.\d\s+3:\d\d\.\d\s+no difference\n/,
    ])
      expect(said).toMatch(line);
    expect(said).not.toContain('same.route.yaml  ');
    expect(outputs['changed']).toBe('5');
    expect(readFileSync(outputs['report']!, 'utf8')).toBe(summary);
  });

  it('writes SARIF, lists the findings with their places, and fails from the asked severity on', async () => {
    const { repo } = begun({ 'my routes/a.route.yaml': route.replace('[wall-kick]', '[crate-valt]') });
    const failed = await check(repo, { ROUTES_FOLDER: 'my routes' });
    expect(failed.code).toBe(1);
    const log = JSON.parse(readFileSync(failed.outputs['sarif']!, 'utf8')) as {
      runs: [{ results: { ruleId: string; locations: object[] }[] }];
    };
    const { results } = log.runs[0];
    expect(failed.outputs['findings']).toBe(String(results.length));
    expect(results.find(({ ruleId }) => ruleId === 'unknown-technique')!.locations[0]).toMatchObject({
      physicalLocation: { artifactLocation: { uri: 'my%20routes/a.route.yaml' }, region: { startLine: 5 } },
    });
    expect(seen(failed.summary)).toMatch(
      /error\s+my routes\/a\.route\.yaml:5\s+.*crate-valt.*\(unknown-technique\)/,
    );
    expect((await check(repo, { ROUTES_FAIL_ON: 'never' })).code).toBe(0);
    // Only what is compared needs a base.
    expect(failed.summary).not.toContain('changed');
    const place = join(repo.folder, 'out.sarif');
    const target = join(dirname(failed.outputs['sarif']!), 'target');
    writeFileSync(target, 'kept');
    symlinkSync(target, place);
    expect((await check(repo, { ROUTES_SARIF: 'out.sarif' })).outputs['sarif']).toBe(place);
    expect(readFileSync(target, 'utf8')).toBe('kept');
    expect(readFileSync(place, 'utf8')).toContain('"2.1.0"');
  });

  it.each([
    [{ ROUTES_FOLDER: 'nowhere' }, /could not be checked[\s\S]*nowhere cannot be read: it does not exist\./],
    [{ ROUTES_FAIL_ON: 'info' }, /--fail-on can be error, warning or hint, not info\./],
    [{ ROUTES_AS_OF: 'soon' }, /--as-of needs a date/],
  ])('fails with a sentence on wrong use: %j', async (inputs, sentence) => {
    const { repo } = begun({ 'a.route.yaml': route });
    const { code, summary, log, outputs } = await check(repo, inputs);
    expect({ code, sarif: outputs['sarif'] }).toEqual({ code: 2, sarif: '' });
    expect(seen(summary)).toMatch(sentence);
    expect(log).toBe('0 findings, 0 changed routes: the job summary says more.\n');
  });

  it.each([
    '0123456789012345678901234567890123456789',
    '--output=stolen',
    'main:a.route.yaml',
    '$(touch run)',
  ])('says that it does not compare with a base that this clone does not hold: %s', async (base) => {
    const { repo } = begun({ 'a.route.yaml': route });
    const { code, summary, log } = await check(repo, { ROUTES_BASE: base });
    expect(code).toBe(0);
    expect(summary).toContain(
      'Changed routes were not compared: this clone does not hold the base revision.',
    );
    expect(log).toContain('::warning::Give actions/checkout `fetch-depth: 0`');
    expect(log).not.toContain(base);
    expect(existsSync(join(repo.folder, 'run'))).toBe(false);
  });

  it('keeps going where one route cannot be compared, and says why', async () => {
    const { repo } = begun({ 'a.route.yaml': route, 'b.route.yaml': route, 'c.route.yaml': '' });
    writeFileSync(join(repo.folder, 'a.route.yaml'), Buffer.from([0x67, 0xff, 0x0a]));
    repo.commit('Not UTF-8');
    const broken = repo.git('rev-parse', 'HEAD').trim();
    for (const name of ['a', 'b', 'c']) repo.write(`${name}.route.yaml`, faster);
    repo.commit('After');
    const { code, summary } = await check(repo, { ROUTES_BASE: broken });
    expect(code).toBe(0);
    const said = seen(summary);
    expect(said).toMatch(/a\.route\.yaml\s+·\s+·\s+not compared\n/);
    expect(said).toContain('What git holds there is not UTF-8 text.');
    expect(said).toMatch(/b\.route\.yaml\s+\S+\s+\S+\s+gains 2\.0 s\n/);
    expect(said).toMatch(/c\.route\.yaml\s+·\s+·\s+not compared\n/);
    // Sentences are broken where a line ends, which goes by the length of the folder's name.
    expect(said.replace(/\s+/g, ' ')).toContain('has no segments that can be read');
  });
});

/** Names that a shell, the runner, git, the command line or a page could read as more than a name. */
const hostileNames = [
  '-rf.route.yaml',
  '--json.route.yaml',
  'a b "c" \'d\'.route.yaml',
  '$(touch ran-1).route.yaml',
  '`touch ran-2`.route.yaml',
  ';touch ran-3;.route.yaml',
  'x\n::set-output name=sarif::stolen\n::error::gone\n.route.yaml',
  '::add-mask::s.route.yaml',
  '##[error]gone.route.yaml',
  '<img src=x onerror=alert(1)>.route.yaml',
  '[x](https:evil.example)|@octocat|www.evil.example|.route.yaml',
  '```\n# Big\n.route.yaml',
  '\u202Egnp.route.yaml',
];

describe('hostile names', () => {
  let step: Step;
  let repo: Repository;
  let traces: ReturnType<typeof makeHostile>;
  beforeAll(async () => {
    const name = JSON.stringify('```\n::error::gone\n</details><script>alert(1)</script> @octocat');
    const files = Object.fromEntries(
      hostileNames.map((file) => [`routes/${file}`, route.replace('Crate vault', name)]),
    );
    const before = begun({ ...files, '-top.route.yaml': route });
    ({ repo } = before);
    // A file that is called as git calls the former route must not be taken for it.
    repo.write(
      `${before.base}:${join(repo.folder, 'routes/-rf.route.yaml')}`,
      slower.replace('2:10', '9:10'),
    );
    for (const [file, text] of Object.entries(files)) repo.write(file, text.replace('1:32.4', '1:30.4'));
    repo.write('-top.route.yaml', faster);
    repo.commit('After');
    traces = makeHostile(repo);
    step = await check(repo, { ROUTES_BASE: before.base });
  });

  it('run nothing, and say nothing to the runner', () => {
    expect(traces.found()).toEqual([]);
    for (const ran of ['ran-1', 'ran-2', 'ran-3'])
      for (const folder of [repo.folder, join(repo.folder, 'routes')])
        expect(existsSync(join(folder, ran))).toBe(false);
    expect(step.log).toBe(
      `${step.outputs['findings']} findings, ${step.outputs['changed']} changed routes: the job summary says more.\n`,
    );
    expect(Object.keys(step.outputs).sort()).toEqual(['changed', 'findings', 'report', 'sarif']);
    expect(step.outputs['sarif']).toMatch(/\/routes\.sarif$/);
  });

  it('are compared like all others', () => {
    const said = seen(step.summary);
    expect(said.match(/gains 2\.0 s/g)).toHaveLength(hostileNames.length + 1);
    expect(said).not.toContain('not compared');
  });

  it('are letters on the page', () => {
    const page = rendered(step.summary);
    const tags = new Set([...page.matchAll(/<\/?([a-z]\w*)/gi)].map(([, tag]) => tag!.toLowerCase()));
    for (const tag of tags)
      expect([
        ...['h2', 'p', 'table', 'thead', 'tbody', 'tr', 'th', 'td', 'code', 'pre', 'details', 'summary'],
      ]).toContain(tag);
    expect(page.match(/<details>/g)).toHaveLength(hostileNames.length + 1);
    expect(page.match(/<\/details>/g)).toHaveLength(hostileNames.length + 1);
    expect(step.summary).not.toMatch(/^(?:::|##\[)/m);
    // Shown as they are called; a line break and a turned reading direction as a dot.
    const said = seen(step.summary);
    for (const name of hostileNames) expect(said).toContain(name.replace(/[\n\u202E]/g, '·'));
  });
});

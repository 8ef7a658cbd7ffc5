import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readingCodes, rules } from '../../../server/src/rules/catalogue.ts';
import { checkProject } from '../../../server/src/rules/checkProject.ts';
import { assess } from '../../../server/src/model/index.ts';
import { buildModelInput } from '../../../server/src/queries/modelInput.ts';
import { contextOf, findingsOf, forecastsOf, plainRoute, workspaceOf } from './marked.ts';

const kinds = ['route', 'practice', 'runs', 'week'] as const;
const sample = Object.fromEntries(
  kinds.map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [name, readFileSync(new URL(`../../../samples/${name}`, import.meta.url), 'utf8')];
  }),
);
const codes = new Set([...rules, ...readingCodes].map(({ code }) => code));

describe('the sample', () => {
  it('has no finding', async () => {
    expect(await findingsOf(sample, { today: '2026-12-31' })).toEqual([]);
  });

  it('has one technique in runs that is to be worked on again: the slip that was planted', async () => {
    const workspace = await workspaceOf(sample);
    const [project] = workspace.groups().projects;
    const { own, today } = contextOf(project!);
    const assessment = assess(buildModelInput(project!, own, { asOf: today }));
    const found = await forecastsOf(sample, assessment);
    expect(found.map(({ code, message }) => [code, message.split('.')[0]])).toEqual([
      ['lands-too-rarely', '`net-climb` is to be worked on again'],
    ]);
  });
});

describe('half-typed files', () => {
  // A step that is no divisor of a line's length, so that every kind of place is cut through.
  it.each(kinds)('rules look at every beginning of the %s file', async (kind) => {
    const name = `lanternfall.${kind}.yaml`;
    const text = sample[name]!;
    const workspace = await workspaceOf(sample);
    const uri = `file:///w/${name}`;
    const readings = (asked: string) => workspace.file(asked)?.reading;
    const step = Math.ceil(text.length / 150);
    const wrong: unknown[] = [];
    for (let end = 0; end <= text.length; end += step) {
      workspace.edit(uri, text.slice(0, end));
      for (const project of workspace.groups().projects) {
        for (const finding of checkProject(contextOf(project), readings)) {
          const { start, end: to, code } = finding;
          const length = readings(finding.uri)?.text.length ?? -1;
          if (start < 0 || to < start || to > length || !codes.has(code)) wrong.push({ end, finding });
        }
      }
    }
    expect(wrong).toEqual([]);
  });
});

describe('hostile files', () => {
  it.each([
    ['names of what every object has', plainRoute.replaceAll('crate-vault', '__proto__')],
    [
      'such names that are ids',
      plainRoute.replaceAll('crate-vault', 'constructor').replaceAll('harbor', 'valueOf'),
    ],
    [
      'letters beyond the first plane',
      plainRoute.replaceAll('crate-vault', '🗼').replace('Lanternfall', '🗼'.repeat(50)),
    ],
    ['a route without anything', ''],
    ['a list', '- a\n- b\n'],
    [
      'nulls everywhere',
      'game:\ncategory:\nextends:\nsegments:\n  -\n  - id:\ntechniques:\n  a:\n  b: { needs: [~], saves: 16..9 }\n',
    ],
    [
      'aliases',
      'game: L\ncategory: c\nsegments: [{ id: &id pier, time: 4, techniques: [*id, { use: *id }] }]\n',
    ],
    ['an extension of something that is no path', `extends: "%zz//..::\\0.route.yaml"\n${plainRoute}`],
  ])('takes %s', async (_, route) => {
    const findings = await findingsOf({
      'a.route.yaml': route,
      'a.practice.yaml':
        'route: a.route.yaml\nsessions: [{ start: 2026-10-05, blocks: [{ technique: constructor, minutes: 9, tried: { __proto__: [1, 1] } }] }]\n',
      'a.runs.yaml':
        'route: a.route.yaml\nruns: [{ start: 2026-10-05, times: { __proto__: 4, "🗼": 9 }, tried: { __proto__: [2, 1] } }]\n',
      'a.week.yaml':
        'route: a.route.yaml\nstates: { __proto__: learning, constructor: in-run }\ntimes: { __proto__: { time: 4 } }\n',
    });
    for (const { code } of findings) expect(codes).toContain(code);
  });

  it('places findings by UTF-16 after an emoji', async () => {
    const text = plainRoute
      .replace('game: Lanternfall', 'game: "🗼🗼"')
      .replace('[crate-vault]', '[crate-valt]');
    const findings = await findingsOf({ 'a.route.yaml': text });
    const found = findings.find(({ code }) => code === 'unknown-technique');
    expect(text.slice(found?.start, found?.end)).toBe('crate-valt');
  });
});

describe('large files', () => {
  /** Milliseconds that the rules take over a project with `n` techniques, each unknown to half of the logs. */
  async function took(n: number): Promise<{ ms: number; findings: number }> {
    const ids = Array.from({ length: n }, (_, at) => `technique-${at}`);
    const route = `game: L\ncategory: c\nsegments:\n${ids.map((id, at) => `  - { id: s${at}, time: 90, techniques: [${id}, gone-${at}] }\n`).join('')}techniques:\n${ids.map((id, at) => `  ${id}: { difficulty: 3, saves: 2, needs: [technique-${(at + 1) % n}] }\n`).join('')}`;
    const practice = `route: a.route.yaml\nsessions:\n${ids.map((id, at) => `  - { start: 2026-01-01, blocks: [{ technique: ${id}, minutes: 9 }, { technique: lost-${at}, minutes: 9 }] }\n`).join('')}`;
    const workspace = await workspaceOf({ 'a.route.yaml': route, 'a.practice.yaml': practice });
    const [project] = workspace.groups().projects;
    const before = performance.now();
    const findings = checkProject(contextOf(project!), (uri) => workspace.file(uri)?.reading);
    return { ms: performance.now() - before, findings: findings.length };
  }

  it('take time in proportion to their size', async () => {
    await took(100);
    const small = await took(250);
    const large = await took(2000);
    // Half of the uses and half of the blocks name nothing, the needs are one long loop, it is all one day's work, and
    // the model works with fewer techniques and fewer segments.
    expect(large.findings).toBe(4004);
    // Eight times the size; a rule that is quadratic would take 64 times as long.
    expect(large.ms).toBeLessThan(small.ms * 30 + 100);
  });
});

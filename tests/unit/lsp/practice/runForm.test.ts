import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { logEvening, logRun } from '../../../../server/src/lsp/practice/completeEntries.ts';
import { runForm } from '../../../../server/src/lsp/practice/runForm.ts';
import { runFormShape } from '../../../../server/src/protocol/runLog/runForm.ts';
import { neverStopped } from '../editor.ts';
import { desk, sitDown, type Desk, type Sitting } from './desk.ts';

const samples = join(import.meta.dirname, '../../../../samples');
const sample = (kind: string): string => readFileSync(join(samples, `lanternfall.${kind}.yaml`), 'utf8');

const formAt = (at: Desk, { services }: Sitting, asked = 'a.route.yaml') =>
  runForm(services, { uri: at.uri(asked) }, neverStopped);

describe('what the page of a run asks for', () => {
  it('is each segment in order, with the time that the runner usually has', async () => {
    const at = desk(
      Object.fromEntries(
        ['route', 'practice', 'runs', 'week'].map((kind) => [
          `a.${kind}.yaml`,
          sample(kind).replace('lanternfall.route.yaml', 'a.route.yaml'),
        ]),
      ),
    );
    const sitting = await sitDown(at);
    const answer = await formAt(at, sitting);
    if ('message' in answer) throw new Error(answer.message);
    const { form, runs } = answer;
    expect(runFormShape.fits(JSON.parse(JSON.stringify(form)))).toBe(true);
    expect(runs).toEqual({ uri: at.uri('a.runs.yaml'), begin: null });
    expect(form.today).toBe('2026-11-25');
    expect(form.segments).toHaveLength(17);
    expect(form.segments[0]).toMatchObject({ id: 'harbor', name: 'Harbor gate' });
    // The runs of the sample: 1:24.1, 1:26.9, 1:25.5 in October, and quicker since. P: a usual time lies among those seen.
    const times = [...sample('runs').matchAll(/harbor: (\d):(\d\d\.\d)/g)].map(
      ([, minutes, seconds]) => 60 * Number(minutes) + Number(seconds),
    );
    const { usual, fastest, longest } = form.segments[0]!;
    expect(usual).toBeGreaterThan(Math.min(...times) - 1);
    expect(usual).toBeLessThan(Math.max(...times));
    expect(fastest).toBeLessThan(Math.min(...times));
    expect(longest).toBeGreaterThan(Math.max(...times));
    // What the runs of the sample try from their first day on.
    expect(form.uses.filter(({ tried }) => tried).map(({ use }) => use)).toContain('crate-vault');
    expect(new Set(form.uses.map(({ key }) => key)).size).toBe(form.uses.length);
    sitting.end();
  });

  it('has every use of a segment, one of several by its name, and a backup that is not suggested', async () => {
    const at = desk({
      'a.week.yaml':
        'route: a.route.yaml\nstates: { crate-vault: in-run, lamp-clip: in-run, lamp-hop: in-run }\n',
    });
    const sitting = await sitDown(at);
    const answer = await formAt(at, sitting);
    if ('message' in answer) throw new Error(answer.message);
    const { form, runs } = answer;
    expect(form.uses.map(({ key, name, technique }) => [key, name, technique])).toEqual([
      ['harbor crate-vault', 'Crate vault', 'crate-vault'],
      ['harbor lamp-clip@second', 'Lamp clip, second', 'lamp-clip'],
      ['harbor lamp-hop', 'lamp-hop', 'lamp-hop'],
      ['rope-yard lamp-hop', 'lamp-hop', 'lamp-hop'],
    ]);
    expect(form.uses.find(({ key }) => key === 'harbor lamp-hop')?.tried).toBe(false);
    expect(runs.begin).toMatchObject({
      create: true,
      changes: [{ newText: 'route: a.route.yaml\nruns: []\n' }],
    });
    sitting.end();
  });

  it.each([
    ['a route without a segment', 'game: Lanternfall\ncategory: any%\n', 'no segment yet'],
    ['no route', undefined, 'b.route.yaml is not among the files'],
  ])('is nothing for %s', async (_, route, sentence) => {
    const at = desk(route === undefined ? {} : { 'a.route.yaml': route });
    const sitting = await sitDown(at);
    expect(await formAt(at, sitting, route === undefined ? 'b.route.yaml' : 'a.route.yaml')).toEqual({
      message: expect.stringContaining(sentence) as string,
    });
    sitting.end();
  });
});

describe('an evening logged in short', () => {
  const evening = { runs: '38', finished: '2', minutes: '', tried: [], on: '' };

  it('goes into the log in the order of its date, and undo is one step', async () => {
    const at = desk({
      'a.runs.yaml': 'route: a.route.yaml\nruns:\n  - { start: 2026-11-24T18:00, total: 3:30 }\n',
    });
    const sitting = await sitDown(at);
    await sitting.open('a.runs.yaml');
    const uri = at.uri('a.runs.yaml');
    const answer = await logEvening(sitting.services, sitting.logs, {
      ...evening,
      uri,
      date: '2026-11-23',
      ended: [{ segment: 'harbor', why: 'reset', runs: '30' }],
    });
    expect(answer).toMatchObject({
      said: expect.stringContaining('38 runs on 2026-11-23, 2 finished') as string,
    });
    expect(sitting.text('a.runs.yaml')).toMatch(
      /runs:\n {2}- \{ id: r-\w+, date: 2026-11-23, runs: 38, finished: 2, ended: \{ harbor: \{ reset: 30 \} \} \}\n {2}- \{ start: 2026-11-24T18:00/,
    );
    sitting.end();
  });

  it('is refused with a sentence, and nothing is written', async () => {
    const at = desk({ 'a.runs.yaml': 'route: a.route.yaml\nruns: []\n' });
    const sitting = await sitDown(at);
    await sitting.open('a.runs.yaml');
    const params = { ...evening, uri: at.uri('a.runs.yaml'), date: 'soon', ended: [] };
    expect(await logEvening(sitting.services, sitting.logs, params)).toHaveProperty('message');
    expect(sitting.text('a.runs.yaml')).toBe('route: a.route.yaml\nruns: []\n');
    sitting.end();
  });
});

describe('an entry whose log does not exist yet', () => {
  const run = { start: '', total: '3:30', times: [], tried: [], ended: null, on: '' };

  it('is answered with the edit that begins the log, and logged once that is there', async () => {
    const at = desk();
    const sitting = await sitDown(at);
    const answer = await logRun(sitting.services, sitting.logs, { ...run, uri: at.uri('a.route.yaml') });
    if (!('begin' in answer)) throw new Error(JSON.stringify(answer));
    expect(answer.begin).toMatchObject({ uri: at.uri('a.runs.yaml'), create: true });
    expect(await sitting.services.workspace.read(at.uri('a.runs.yaml'))).toBeUndefined();
    // The editor has created it, and nobody has told the server.
    writeFileSync(join(at.folder, 'a.runs.yaml'), answer.begin.changes[0]!.newText);
    const logged = await logRun(sitting.services, sitting.logs, { ...run, uri: answer.begin.uri });
    expect(logged).toMatchObject({ id: expect.stringMatching(/^r-/) as string });
    expect(sitting.text('a.runs.yaml')).toContain('total: 3:30');
    sitting.end();
  });

  it('begins none where it is refused', async () => {
    const at = desk();
    const sitting = await sitDown(at);
    const params = { ...run, total: 'soon', uri: at.uri('a.route.yaml') };
    expect(await logRun(sitting.services, sitting.logs, params)).toHaveProperty('message');
    sitting.end();
  });
});

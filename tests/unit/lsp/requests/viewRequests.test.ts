import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { describe, expect, it } from 'vitest';
import {
  keepingCommits,
  withComparedRoute,
  type ReadRevision,
} from '../../../../server/src/lsp/requests/comparedRoute.ts';
import { panelHandler, panelMarkdownHandler } from '../../../../server/src/lsp/requests/panel.ts';
import type { ReadRevisionParams } from '../../../../server/src/protocol/messages/clientFiles.ts';
import { panelDataShape, type PanelData } from '../../../../server/src/protocol/panel/panelData.ts';
import type { RouteRevision } from '../../../../server/src/protocol/routeRevision.ts';
import type { PanelView } from '../../../../server/src/protocol/panel/views.ts';
import { neverStopped, harborRoute, openEditor, uriOf, type Editor } from '../editor.ts';

const today = '2026-10-08';
const practice =
  'route: a.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n      - { technique: lamp-hop, minutes: 25, landed: [61, 104] }\n';
const week = 'route: a.route.yaml\ntarget: "3:36"\nstates: { lamp-hop: in-run }\n';
const files = { 'a.route.yaml': harborRoute, 'a.practice.yaml': practice, 'a.week.yaml': week };

/** A view of the panel as it is copied, asked for from a file. */
function copied({ services }: Editor, view: PanelView, name: string): string {
  const params = { uri: uriOf(name), view, technique: null, objective: 'time', wait: true };
  return runToCompletion(panelMarkdownHandler(services)(params));
}

const never = (): Promise<never> => Promise.reject(new Error('No revision is to be read here.'));

describe('the odds of a run', () => {
  it('are copied as Markdown, the same from every file of the route', async () => {
    const editor = await openEditor(files, { today });
    const text = copied(editor, 'odds', 'a.route.yaml');
    expect(text).toMatch(/^# Lanternfall,? any%, as of 2026-10-08\n\n## The odds of a run\n/);
    expect(text).toMatch(/\n\| 3:36, the target \| /);
    expect(text).toMatch(/\n\| At the end of \| Reset \| .*\n\|---\|---\|---\|\n\| Harbor gate /);
    expect(text).toContain('The answer is for the morning of 2026-10-08, today. ');
    for (const name of ['a.practice.yaml', 'a.week.yaml']) expect(copied(editor, 'odds', name)).toBe(text);
  });

  it('follow the text as it is edited', async () => {
    const editor = await openEditor(files, { today, open: ['a.route.yaml'] });
    const { services } = editor;
    const finalTime = (): string =>
      /\| Final time \| (\S+)/.exec(copied(editor, 'odds', 'a.route.yaml'))![1]!;
    const before = finalTime();
    services.sync.change(uriOf('a.route.yaml'), [{ text: harborRoute.replace('2:08', '3:08') }], 2);
    await services.sync.ready();
    expect(finalTime()).not.toBe(before);
  });

  it('say why there are none', async () => {
    const { services } = await openEditor({ 'b.week.yaml': 'route: no.route.yaml\n' });
    for (const view of ['odds', 'review'] as const) {
      const params = { uri: uriOf('b.week.yaml'), view, technique: null, objective: 'time', wait: true };
      const data = runToCompletion(panelHandler(services)(params));
      expect(data).toMatchObject({ odds: null, review: null });
      expect(data.message).toContain('b.week.yaml belongs to the route no.route.yaml, which is not among');
    }
  });
});

describe('a review', () => {
  it('is copied as Markdown with its counts in a table', async () => {
    const editor = await openEditor(files, { today });
    const text = copied(editor, 'review', 'a.practice.yaml');
    expect(text).toMatch(/^# Lanternfall,? any%, as of 2026-10-08\n\n## The week looked back on\n/);
    expect(text).toMatch(/\| lamp-hop \| 61\/104 \|/);
  });

  it('cannot be broken out of by a name', async () => {
    const name = 'name: "A|B <img src=x> [c](d) \\u001b[31m"';
    const editor = await openEditor(
      { ...files, 'a.route.yaml': harborRoute.replace('lamp-hop: {', `lamp-hop: { ${name},`) },
      { today },
    );
    const text = copied(editor, 'review', 'a.route.yaml');
    expect(text).toContain(String.raw`A\|B &lt;img src=x&gt; \[c\](d)  \[31m`);
    expect(text).not.toContain('\u001b');
  });
});

describe('a comparison', () => {
  const other = harborRoute.replace('2:08', '2:03');

  /** The panel of a route at its comparison with another one, as data and as it is copied. */
  async function comparison(
    { services }: Editor,
    compared: RouteRevision,
    name: string,
    readRevision: ReadRevision = never,
  ): Promise<{ readonly data: PanelData; readonly text: string }> {
    const needs = { ...services, readRevision };
    const view = 'compare' as const;
    const params = { uri: uriOf(name), view, technique: null, compared, objective: 'time', wait: true };
    const data = await withComparedRoute(needs, panelHandler(services))(params, neverStopped);
    expect(panelDataShape.fits(data)).toBe(true);
    return {
      data,
      text: await withComparedRoute(needs, panelMarkdownHandler(services))(params, neverStopped),
    };
  }

  it('holds two routes against each other, one without logs of its own', async () => {
    const editor = await openEditor({ ...files, 'b.route.yaml': other }, { today });
    const { data, text } = await comparison(editor, { uri: uriOf('a.route.yaml') }, 'b.route.yaml');
    expect(data.compare).toMatchObject({ a: 'a.route.yaml', b: 'b.route.yaml' });
    // The routes differ in one usual time, by 5 s: what is expected differs by as much.
    expect(data.compare?.summary).toBe('A finished run along B is expected to take 5.0 s less than along A.');
    expect(data.compare?.differences.rows.map(({ name, words }) => [name, words])).toEqual([
      ['Harbor gate', 'the same'],
      ['rope-yard', '5.0 s faster in B'],
      ['The whole run', '5.0 s faster in B'],
    ]);
    expect(text).toContain('Only A has logs of its own; they serve for both.');
    expect(text).toMatch(/\| rope-yard \| 2:0\d\.\d \| 2:0\d\.\d \| 5\.0 s faster in B \|/);
    // The table by segment is there once.
    expect(text.split('rope-yard').length - 1).toBe(1);
  });

  it('reads the route and those it extends as they were, and asks for nothing else', async () => {
    const child = 'game: Lanternfall\ncategory: lamps\nextends: a.route.yaml\n';
    const editor = await openEditor({ ...files, 'c.route.yaml': child }, { today });
    const asked: ReadRevisionParams[] = [];
    const readRevision: ReadRevision = (params) => {
      asked.push(params);
      return Promise.resolve({ text: params.uri === uriOf('c.route.yaml') ? child : other });
    };
    const compared = { uri: uriOf('c.route.yaml'), revision: 'HEAD~2' };
    const { data } = await comparison(editor, compared, 'c.route.yaml', readRevision);
    const both = ['c.route.yaml', 'a.route.yaml'].map((name) => ({ uri: uriOf(name), revision: 'HEAD~2' }));
    // Once for the data, once for the copy.
    expect(asked).toEqual([...both, ...both]);
    expect(data.compare?.a).toBe('c.route.yaml at HEAD~2');
    expect(data.compare?.differences.rows.at(-1)?.words).toBe('5.0 s slower in B');
  });

  it('reads the files of a commit once, those of a branch each time, and asks again after a refusal', async () => {
    const commit = '0123456789'.repeat(4);
    const asked: string[] = [];
    const read = keepingCommits(({ uri, revision }) => {
      asked.push(`${uri} ${revision}`);
      return Promise.resolve(asked.length === 1 ? { message: 'Not now.' } : { text: revision });
    });
    expect(await read({ uri: 'a', revision: commit })).toEqual({ message: 'Not now.' });
    for (const revision of [commit, commit, 'main', 'main', 'f'.repeat(40), commit])
      expect(await read({ uri: 'a', revision })).toEqual({ text: revision });
    expect(await read({ uri: 'b', revision: commit })).toEqual({ text: commit });
    expect(asked).toEqual([
      ...[commit, commit, 'main', 'main', 'f'.repeat(40), commit].map((revision) => `a ${revision}`),
      `b ${commit}`,
    ]);
  });

  it('reads nothing while only the numbers that are known are asked for, and says that it compares', async () => {
    const { services } = await openEditor({ ...files, 'b.route.yaml': other }, { today });
    const compared = { uri: uriOf('b.route.yaml'), revision: 'HEAD' };
    const params = {
      uri: uriOf('a.route.yaml'),
      view: 'compare',
      technique: null,
      compared,
      objective: 'time',
      wait: false,
    } as const;
    const answer = withComparedRoute({ ...services, readRevision: never }, panelHandler(services));
    const data = await answer(params, neverStopped);
    expect(data).toMatchObject({ compare: null, pending: 'Comparing two routes', message: null });
  });

  it('is kept: shown at once while it is asked for anew, and computed again only where a number changed', async () => {
    const open = ['b.route.yaml'];
    const { services } = await openEditor({ ...files, 'b.route.yaml': other }, { today, open });
    const edit = async (text: string, version: number): Promise<void> => {
      services.sync.change(uriOf('b.route.yaml'), [{ text }], version);
      await services.sync.ready();
    };
    const answer = withComparedRoute({ ...services, readRevision: never }, panelHandler(services));
    const asked = (wait: boolean): Promise<PanelData> => {
      const compared = { uri: uriOf('a.route.yaml') };
      const look = { view: 'compare', technique: null, compared, objective: 'time' } as const;
      return answer({ uri: uriOf('b.route.yaml'), ...look, wait }, neverStopped);
    };
    const first = await asked(true);
    expect(first.pending).toBeNull();
    const { compare, pending } = await asked(false);
    expect(compare).toEqual(first.compare);
    expect(pending).toBe('Comparing two routes');
    // The names are those of now, also in an answer that is kept.
    await edit(other.replace('Harbor gate', 'Harbor wall'), 2);
    const named = await asked(true);
    expect(named.compare?.differences.rows[0]?.name).toBe('Harbor wall');
    expect(services.panelReports.counts.compare).toBe(1);
    await edit(harborRoute, 3);
    expect((await asked(true)).compare?.differences.rows.at(-1)?.words).toBe('the same');
    expect(services.panelReports.counts.compare).toBe(2);
  });

  it('of nothing yet says so, with the button that ends it', async () => {
    const { services } = await openEditor(files, { today });
    const params = {
      uri: uriOf('a.route.yaml'),
      view: 'compare',
      technique: null,
      objective: 'time',
      wait: true,
    } as const;
    const data = runToCompletion(panelHandler(services)(params));
    expect(data.message).toMatch(/^Nothing is compared yet\./);
    expect(data.remedies).toEqual([{ remedy: 'compare', text: 'Compare with Another Route…' }]);
  });

  it('passes on why a revision cannot be read', async () => {
    const editor = await openEditor(files, { today });
    const refuse = () => Promise.resolve({ message: 'Not in a folder that is not trusted.' });
    const compared = { uri: uriOf('a.route.yaml'), revision: 'HEAD' };
    const { data } = await comparison(editor, compared, 'a.route.yaml', refuse);
    expect(data.message).toBe('a.route.yaml at HEAD: Not in a folder that is not trusted.');
  });

  it('is of routes only', async () => {
    const editor = await openEditor(files, { today });
    const { data } = await comparison(editor, { uri: uriOf('a.week.yaml') }, 'a.route.yaml');
    expect(data.message).toBe('a.week.yaml is no route; routes are what can be compared.');
  });
});

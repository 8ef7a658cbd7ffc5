import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { describe, expect, it } from 'vitest';
import { compareHandler, type ReadRevision } from '../../../../server/src/lsp/requests/compare.ts';
import { panelHandler, panelMarkdownHandler } from '../../../../server/src/lsp/requests/panel.ts';
import type { ReadRevisionParams } from '../../../../server/src/protocol/messages/clientFiles.ts';
import type { ViewResult } from '../../../../server/src/protocol/messages/views.ts';
import type { PanelView } from '../../../../server/src/protocol/panel/views.ts';
import { neverStopped, harborRoute, openEditor, uriOf, type Editor } from '../editor.ts';

const today = '2026-10-08';
const practice =
  'route: a.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n      - { technique: lamp-hop, minutes: 25, landed: [61, 104] }\n';
const week = 'route: a.route.yaml\ntarget: "3:36"\nstates: { lamp-hop: in-run }\n';
const files = { 'a.route.yaml': harborRoute, 'a.practice.yaml': practice, 'a.week.yaml': week };

function textOf(result: ViewResult): string {
  if ('message' in result) throw new Error(result.message);
  return result.markdown;
}

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
    expect(text).toContain('For the morning of 2026-10-08, today. ');
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

  it('holds two routes against each other, one without logs of its own', async () => {
    const { services } = await openEditor({ ...files, 'b.route.yaml': other }, { today });
    const wish = { a: { uri: uriOf('a.route.yaml') }, b: { uri: uriOf('b.route.yaml') } };
    const text = textOf(await compareHandler({ ...services, readRevision: never })(wish, neverStopped));
    expect(text).toContain('Only A has logs of its own; they serve for both.');
    expect(text).toMatch(/\| rope-yard +\| +2:0\d\.\d \| +2:0\d\.\d \| −5\.0 s \|/);
  });

  it('reads the route and those it extends as they were, and asks for nothing else', async () => {
    const child = 'game: Lanternfall\ncategory: lamps\nextends: a.route.yaml\n';
    const { services } = await openEditor({ ...files, 'c.route.yaml': child }, { today });
    const asked: ReadRevisionParams[] = [];
    const wish = { a: { uri: uriOf('c.route.yaml'), revision: 'HEAD~2' }, b: { uri: uriOf('c.route.yaml') } };
    const readRevision: ReadRevision = (params) => {
      asked.push(params);
      return Promise.resolve({ text: params.uri === uriOf('c.route.yaml') ? child : other });
    };
    const text = textOf(await compareHandler({ ...services, readRevision })(wish, neverStopped));
    expect(asked).toEqual(
      ['c.route.yaml', 'a.route.yaml'].map((name) => ({ uri: uriOf(name), revision: 'HEAD~2' })),
    );
    expect(text).toContain('- A: c.route.yaml at HEAD\\~2'.replace('\\~', '~'));
    expect(text).toMatch(/\| rope-yard .*\| \+5\.0 s \|/);
  });

  it('passes on why a revision cannot be read', async () => {
    const { services } = await openEditor(files, { today });
    const wish = { a: { uri: uriOf('a.route.yaml'), revision: 'HEAD' }, b: { uri: uriOf('a.route.yaml') } };
    const refuse = () => Promise.resolve({ message: 'Not in a folder that is not trusted.' });
    expect(await compareHandler({ ...services, readRevision: refuse })(wish, neverStopped)).toEqual({
      message: 'a.route.yaml at HEAD: Not in a folder that is not trusted.',
    });
  });

  it('is of routes only', async () => {
    const { services } = await openEditor(files, { today });
    const wish = { a: { uri: uriOf('a.week.yaml') }, b: { uri: uriOf('a.route.yaml') } };
    expect(await compareHandler({ ...services, readRevision: never })(wish, neverStopped)).toHaveProperty(
      'message',
    );
  });
});

import { describe, expect, it } from 'vitest';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { panelData, panelMarkdownHandler } from '../../../../server/src/lsp/requests/panel.ts';
import { panelDataShape, type PanelData } from '../../../../server/src/protocol/panel/panelData.ts';
import { panelViews, type PanelView } from '../../../../server/src/protocol/panel/views.ts';
import { harborRoute, openEditor, uriOf, type Editor } from '../editor.ts';

const today = '2026-10-08';
const practice =
  'route: a.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n      - { technique: lamp-hop, minutes: 25, landed: [61, 104] }\n';
const files = { 'a.route.yaml': harborRoute, 'a.practice.yaml': practice };

function ask({ services }: Editor, view: PanelView, name = 'a.route.yaml'): PanelData {
  const params = { uri: uriOf(name), view, technique: null, objective: 'time', wait: true } as const;
  return runToCompletion(panelData(services, params));
}

/** A text with one more character at the beginning of the line that begins with these words. */
const spoiled = (text: string, line: string, character: string): string =>
  text.replace(`\n${line}`, `\n${character}${line}`);

describe('text that cannot be read', () => {
  it('is named with its line in every view, and nothing is said of the route', async () => {
    const text = spoiled(harborRoute, 'techniques:', '"');
    const editor = await openEditor({ ...files, 'a.route.yaml': text }, { today });
    const line = text.split('\n').findIndex((one) => one.startsWith('"techniques:'));
    for (const view of panelViews) {
      const data = ask(editor, view);
      expect(panelDataShape.fits(data), view).toBe(true);
      expect(data, view).toMatchObject({ message: null, pending: null, routeUri: uriOf('a.route.yaml') });
      expect(data[view], view).toBeNull();
      expect(data.broken?.text, view).toMatch(
        new RegExp(`^Line ${line + 1} of a\\.route\\.yaml cannot be read: .`),
      );
      expect(data.broken?.way).toBe(`Go to line ${line + 1}`);
      expect(data.broken?.place).toMatchObject({ uri: uriOf('a.route.yaml'), range: { start: { line } } });
    }
  });

  it('is named in a log as well, and where the log names no route any more', async () => {
    const inside = await openEditor(
      { ...files, 'a.practice.yaml': spoiled(practice, '  - start', '  "') },
      { today },
    );
    expect(ask(inside, 'ranking').broken?.text).toMatch(/^Line \d of a\.practice\.yaml cannot be read: /);
    const header = await openEditor({ ...files, 'a.practice.yaml': `"${practice}` }, { today });
    const data = ask(header, 'ranking', 'a.practice.yaml');
    expect(data).toMatchObject({ message: null, ranking: null, routeUri: '' });
    expect(data.broken?.text).toMatch(/^Line 1 of a\.practice\.yaml cannot be read: /);
  });

  it('is no longer named once it is mended', async () => {
    const editor = await openEditor(
      { ...files, 'a.route.yaml': spoiled(harborRoute, 'techniques:', '"') },
      { today, open: ['a.route.yaml'] },
    );
    expect(ask(editor, 'odds').odds).toBeNull();
    editor.services.sync.change(uriOf('a.route.yaml'), [{ text: harborRoute }], 2);
    await editor.services.sync.ready();
    const { broken, odds } = ask(editor, 'odds');
    expect(broken).toBeNull();
    expect(odds).not.toBeNull();
  });

  it('is what a copy says, too', async () => {
    const editor = await openEditor(
      { ...files, 'a.route.yaml': spoiled(harborRoute, 'techniques:', '"') },
      { today },
    );
    const params = { uri: uriOf('a.route.yaml'), view: 'week', technique: null, objective: 'time' } as const;
    const copied = runToCompletion(panelMarkdownHandler(editor.services)({ ...params, wait: true }));
    expect(copied).toMatch(/^Line \d+ of a\.route\.yaml cannot be read: .*\n$/);
  });

  it('is not a value that is only wrong: the rest is shown', async () => {
    const text = harborRoute.replace('2:08', 'soon');
    const editor = await openEditor({ ...files, 'a.route.yaml': text }, { today });
    expect(ask(editor, 'ranking').broken).toBeNull();
    expect(ask(editor, 'ranking').ranking).not.toBeNull();
  });
});

import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { describe, expect, it } from 'vitest';
import { hoverProvider } from '../../../../server/src/lsp/editing/hover.ts';
import { withComparedRoute } from '../../../../server/src/lsp/requests/comparedRoute.ts';
import { panelData, panelMarkdownHandler } from '../../../../server/src/lsp/requests/panel.ts';
import { rankHandler } from '../../../../server/src/lsp/requests/rank.ts';
import { neverStopped, cursor, harborRoute, openEditor, type Editor } from '../editor.ts';

const files = {
  'a.route.yaml': harborRoute.replace('  crate-vault: {', `  ${cursor}crate-vault: {`),
  'a.practice.yaml': `route: a.route.yaml
sessions:
  - { start: 2026-10-05T19:30, blocks: [{ technique: crate-vault, minutes: 25, landed: [60, 150] }] }
`,
};

/** Every answer about the route that names its day. */
async function answers({ services, uri, params }: Editor): Promise<Record<string, string>> {
  const needs = {
    ...services,
    readRevision: () => Promise.reject(new Error('No revision is asked for.')),
  };
  const look = { uri, technique: null, objective: 'time', wait: true };
  const compared = await withComparedRoute(needs, panelMarkdownHandler(services))(
    { ...look, view: 'compare', compared: { uri } },
    neverStopped,
  );
  const copied = (view: 'odds' | 'review' | 'progress'): string =>
    runToCompletion(
      panelMarkdownHandler(services)({ uri, view, technique: null, objective: 'time', wait: true }),
    );
  return {
    rank: runToCompletion(rankHandler(services)({ uri })).title,
    panel: runToCompletion(
      panelData(services, { uri, view: 'week', technique: null, objective: 'time', wait: true }),
    ).asOf,
    odds: copied('odds'),
    review: copied('review'),
    progress: copied('progress'),
    compare: compared,
    hover: JSON.stringify(runToCompletion(hoverProvider(services)(params))),
  };
}

async function expectDay(editor: Editor, date: string): Promise<void> {
  for (const [name, text] of Object.entries(await answers(editor))) expect(text, name).toContain(date);
}

describe('the day of the editor’s answers', () => {
  it('is what the client sends, and moves with it', async () => {
    const editor = await openEditor(files, { today: '2026-10-09T19:30' });
    await expectDay(editor, '2026-10-09');
    editor.services.checks.setToday('2026-10-10T03:45');
    await expectDay(editor, '2026-10-09');
    editor.services.checks.setToday('2026-10-10T04:00');
    await expectDay(editor, '2026-10-10');
  });

  it('for a client that sends none is today on the server’s own clock', async () => {
    await expectDay(await openEditor(files, { now: '2026-10-12T03:59' }), '2026-10-11');
    await expectDay(
      await openEditor({ 'a.route.yaml': files['a.route.yaml'] }, { now: '2026-10-12T04:00' }),
      '2026-10-12',
    );
  });

  it('for `last` is the day after the last entry, and today where nothing is logged', async () => {
    const now = '2026-10-12T12:00';
    await expectDay(await openEditor(files, { now, today: 'last' }), '2026-10-06');
    const none = { 'a.route.yaml': files['a.route.yaml'] };
    await expectDay(await openEditor(none, { now, today: 'last' }), '2026-10-12');
  });
});

import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { describe, expect, it } from 'vitest';
import { tonightHandler } from '../../../../server/src/lsp/requests/tonight.ts';
import { panelData } from '../../../../server/src/lsp/requests/panel.ts';
import { tonightRequest } from '../../../../server/src/protocol/messages/tonight.ts';
import { harborRoute, openEditor, uriOf } from '../editor.ts';

const practice = (day: string) =>
  `route: a.route.yaml\nsessions:\n  - start: ${day}T19:30\n    blocks:\n      - { technique: lamp-hop, minutes: 25, landed: [61, 104] }\n`;
const week = 'route: a.route.yaml\ndays: { mon: 60, tue: 60, wed: 60, thu: 60, fri: 60, sat: 60, sun: 60 }\n';
const files = { 'a.route.yaml': harborRoute, 'a.practice.yaml': practice('2026-10-05'), 'a.week.yaml': week };
const today = '2026-10-08T18:00';
const uri = uriOf('a.route.yaml');

async function ask(of: Readonly<Record<string, string>> = files) {
  const editor = await openEditor(of, { today, open: Object.keys(of) });
  const found = () => {
    const result = runToCompletion(tonightHandler(editor.services)({ uri }));
    if ('message' in result) throw new Error(result.message);
    return result;
  };
  return { editor, found };
}

describe('tonight in the editor', () => {
  it('is for the day of the editor, in numbers and in words', async () => {
    const { found } = await ask();
    const { report, words } = found();
    expect(tonightRequest.result.fits({ report, words })).toBe(true);
    expect(report).toMatchObject({ date: '2026-10-08', lastDate: '2026-10-05', nothing: null });
    expect(words.title).toBe('Tonight, Thu 2026-10-08');
    expect(words.steps.map(({ technique }) => technique)).toEqual(
      report.blocks.map(({ technique }) => technique),
    );
    expect(words.steps.length).toBeGreaterThan(0);
  });

  it('is what the panel shows above the week', async () => {
    const { editor, found } = await ask();
    const params = { uri, view: 'week', technique: null, objective: 'time', wait: true } as const;
    expect(runToCompletion(panelData(editor.services, params)).week!.tonight).toEqual(found().words);
  });

  it('follows the text: what is logged today is ticked off', async () => {
    const { editor, found } = await ask();
    expect(found().report.done).toEqual([]);
    editor.services.sync.change(uriOf('a.practice.yaml'), [{ text: practice('2026-10-08') }], 2);
    await editor.services.sync.ready();
    const { report, words } = found();
    expect(report.done).toEqual([{ technique: 'lamp-hop', minutes: 25 }]);
    expect(words.lines[0]).toEqual({ label: 'Done today', text: 'lamp-hop 25 min.' });
  });

  it('says why there is nothing, also without a week file', async () => {
    const { found } = await ask({ 'a.route.yaml': harborRoute });
    expect(found().report.nothing).toEqual({ why: 'no minutes', next: null });
    expect(found().words.summary).toContain('No day of the coming weeks has minutes for practice.');
  });

  it('refuses a file that is none of a route', async () => {
    const { editor } = await ask();
    expect(runToCompletion(tonightHandler(editor.services)({ uri: uriOf('other.txt') }))).toEqual({
      message: expect.stringContaining('not a route, practice, runs, week or pool file') as string,
    });
  });
});

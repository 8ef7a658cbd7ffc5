import { describe, expect, it } from 'vitest';
import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { panelData, panelMarkdownHandler } from '../../../../server/src/lsp/requests/panel.ts';
import { panelDataShape, type PanelData } from '../../../../server/src/protocol/panel/panelData.ts';
import { harborRoute, openEditor, type Editor } from '../editor.ts';

const today = '2026-10-21';
const practice = `route: a.route.yaml
sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: lamp-hop, minutes: 25, landed: [61, 104] }
  - start: 2026-10-19T19:30
    blocks:
      - { technique: lamp-hop, minutes: 20, landed: [15, 20] }
`;
const runs = `route: a.route.yaml
runs:
  - { start: 2026-10-07T21:00, total: "3:41.2", tried: { lamp-hop: [1, 2] } }
  - { start: 2026-10-20T21:00, total: "3:39", tried: { lamp-hop: [2, 2] } }
`;
const names = { route: 'a.route.yaml', practice: 'a.practice.yaml', runs: 'a.runs.yaml' };

function ask({ services, uri }: Editor, more: { readonly wait?: boolean; readonly months?: number } = {}) {
  const params = { uri, view: 'progress', technique: null, objective: 'time', wait: true, ...more } as const;
  const data = runToCompletion(panelData(services, params));
  expect(panelDataShape.fits(data)).toBe(true);
  return data;
}
const lacksOf = ({ remedies }: PanelData): string[] => remedies.map(({ remedy }) => remedy);

describe('the look back over the months in the panel', () => {
  it('has a chart for each technique with logs, with where it stands and its hours', async () => {
    const editor = await openEditor(
      { [names.route]: harborRoute, [names.practice]: practice, [names.runs]: runs },
      { today },
    );
    const data = ask(editor);
    const { techniques, quietText, times, hours, mostTries } = data.progress!;
    const [hop] = techniques;
    expect(techniques).toHaveLength(1);
    expect(hop!.standing).toMatch(/^[A-Z][a-z ]+( since \d{4}-\d\d-\d\d)?$/);
    expect(hop!.practised).toBe('45 min of practice');
    expect(hop!.practice.map(({ rate, tries, joined }) => [rate, tries, joined])).toEqual([
      [61 / 104, 104, false],
      [0.75, 20, false],
    ]);
    expect(hop!.practice.map(({ range }) => range === null)).toEqual([true, false]);
    expect(mostTries).toEqual({ practice: 104, run: 2 });
    expect(hop!.rows).toEqual([
      ['week of 2026-10-05', '61 of 104, 59 %', '1 of 2, 50 % (16 to 84 %)', '25 min'],
      ['week of 2026-10-19', '15 of 20, 75 % (61 to 85 %)', '2 of 2, 100 % (55 to >99 %)', '20 min'],
    ]);
    expect(quietText).toMatch(/^Nothing is logged of /);
    expect(times.runs.map(({ seconds, bestSoFar }) => [seconds, bestSoFar])).toEqual([
      [221.2, 221.2],
      [219, 219],
    ]);
    expect(hours.bars.map((bar) => bar.hours)).toEqual([25 / 60, 0, 20 / 60]);
    expect(lacksOf(data)).toEqual([]);
  });

  it('is there at once, and then says where each technique stands', async () => {
    const editor = await openEditor({ [names.route]: harborRoute, [names.practice]: practice }, { today });
    const first = ask(editor, { wait: false });
    expect(first.pending).toBe('Working out where each technique stands');
    expect(first.progress!.techniques[0]).toMatchObject({ standing: '', practised: '45 min of practice' });
    expect(ask(editor).pending).toBeNull();
    expect(ask(editor, { wait: false }).progress!.techniques[0]!.standing).not.toBe('');
  });

  it('offers what ends a lack: a run where no run is finished, a block where nothing is practised', async () => {
    const practised = await openEditor({ [names.route]: harborRoute, [names.practice]: practice }, { today });
    const data = ask(practised);
    expect(data.progress!.times.summary).toBe('No finished run with a final time is logged yet.');
    expect(lacksOf(data)).toEqual(['log-run']);
    const ran = ask(await openEditor({ [names.route]: harborRoute, [names.runs]: runs }, { today }));
    expect(ran.progress!.hours.summary).toBe('No practice is logged yet.');
    expect(lacksOf(ran)).toEqual(['log-block']);
  });

  it('is copied as Markdown with the same numbers', async () => {
    const { services, uri } = await openEditor(
      { [names.route]: harborRoute, [names.practice]: practice, [names.runs]: runs },
      { today },
    );
    const params = { uri, view: 'progress', technique: null, objective: 'time', wait: true } as const;
    const text = runToCompletion(panelMarkdownHandler(services)(params));
    expect(text).toContain('\n## Over the months\n\n3 weeks, from 2026');
    expect(text).toMatch(
      /\n\| Run \| Final time \| Best so far \|\n\|---\|---\|---\|\n\| 2026.10.07 21:00 \| 3:41\.2 \|/,
    );
    expect(text).toContain('45 min of practice');
    expect(text).toMatch(
      /\| week of 2026.10.05 \| 61 of 104, 59 % \| 1 of 2, 50 % \(16 to 84 %\) \| 25 min \|/,
    );
  });

  it('shows as many months as are asked for, and lets them be chosen where the logs are longer', async () => {
    const long = practice.replace('2026-10-05', '2024-10-05');
    const editor = await openEditor({ [names.route]: harborRoute, [names.practice]: long }, { today });
    const all = ask(editor).progress!;
    expect(all.months).toBe(25);
    expect(all.choices.map(({ months }) => months)).toEqual([6, 12, 25]);
    expect(all.techniques[0]!.practised).toBe('45 min of practice');
    const half = ask(editor, { months: 6 }).progress!;
    expect(half.months).toBe(6);
    expect(half.techniques[0]!.practised).toMatch(/^45 min of practice, 20 min in 2\d weeks$/);
    expect(half.summary).toMatch(/ In all, since 2024-10-05: 45 min of practice, no finished runs\.$/);
  });

  it('works for a route without a technique', async () => {
    const text = 'game: G\ncategory: c\nsegments:\n  - { id: harbor, time: 90 }\n';
    const editor = await openEditor(
      { [names.route]: text, [names.runs]: runs.replace(/, tried: \{.*?\}/g, '') },
      { today },
    );
    const { progress, pending } = ask(editor);
    expect(pending).toBeNull();
    expect(progress).toMatchObject({ techniques: [], quietText: '' });
    expect(progress!.times.runs).toHaveLength(2);
  });
});

import { describe, expect, it } from 'vitest';
import { buildModelInput } from '../../../server/src/queries/modelInput.ts';
import { buildProgressInput, type ProgressInput } from '../../../server/src/queries/progressInput.ts';
import { formatDate, parseMoment } from '../../../server/src/text/calendar.ts';
import { runnerFilesOrAll } from '../../../server/src/workspace/runnerFiles.ts';
import { openEditor } from '../lsp/editor.ts';

const route = `game: Lanternfall
category: any%
target: "3:40"
segments:
  - { id: harbor, time: 90, techniques: [kick] }
  - { id: yard, time: 120, techniques: [hop, kick] }
techniques:
  vault: { difficulty: 2, saves: 1 }
  hop: { difficulty: 3, saves: 2 }
  kick: { difficulty: 4, saves: 3, was: [boot] }
`;
const practice = `route: a.route.yaml
sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: boot, minutes: 20, landed: [3, 4] }
      - { technique: elsewhere, minutes: 15, landed: [1, 4] }
      - { segment: yard, minutes: 10, tried: { hop: [2, 3] } }
  - start: 2026-10-09T19:30
    blocks:
      - { technique: hop, minutes: 40, landed: [3, 4] }
`;
const runs = `route: a.route.yaml
runs:
  - { start: 2026-10-07T21:00, total: "3:41.2" }
  - { start: 2026-10-06T01:30, times: { harbor: 88, yard: 130.5 } }
  - { start: 2026-10-06T20:00, times: { harbor: 88 } }
  - { start: 2026-10-06T20:10, times: { harbor: 88, yard: 120 }, ended: { at: yard, why: death } }
  - { date: 2026-10-06, runs: 4, finished: 2 }
  - { start: 2026-10-09T21:00, total: "3:30.0" }
`;

async function inputOn(date: string, files: Readonly<Record<string, string>>): Promise<ProgressInput> {
  const { services } = await openEditor(files, { today: date });
  const [project] = services.workspace.groups().projects;
  const { own } = runnerFilesOrAll(project!);
  return buildProgressInput(project!, own, buildModelInput(project!, own, { asOf: parseMoment(date)!.date }));
}
const files = { 'a.route.yaml': route, 'a.practice.yaml': practice, 'a.runs.yaml': runs };

describe('what was logged, for a look back', () => {
  it('names techniques in the order in which the route uses them, then the others', async () => {
    expect((await inputOn('2026-10-08', files)).techniques).toEqual(['kick', 'hop', 'vault']);
  });

  it('counts each block of the route whole, renamed techniques and segments too, and none of a later day', async () => {
    const { blocks, firstDay, target } = await inputOn('2026-10-08', files);
    expect(blocks.map(({ day, minutes }) => [formatDate(day), minutes])).toEqual([
      ['2026-10-05', 20],
      ['2026-10-05', 10],
    ]);
    expect(formatDate(firstDay!)).toBe('2026-10-05');
    expect(target).toBe(220);
  });

  it('has the finished runs in order, by total or by the sum of all segments, on the runner’s days', async () => {
    const { finishedRuns } = await inputOn('2026-10-08', files);
    expect(finishedRuns.map(({ day, start, seconds }) => [formatDate(day), start, seconds])).toEqual([
      ['2026-10-05', '2026-10-06T01:30', 218.5],
      ['2026-10-07', '2026-10-07T21:00', 221.2],
    ]);
  });

  it('has nothing of a route without logs, or before the first entry', async () => {
    for (const input of [
      await inputOn('2026-10-08', { 'a.route.yaml': route }),
      await inputOn('2026-10-01', files),
    ])
      expect(input).toMatchObject({ firstDay: undefined, blocks: [], finishedRuns: [] });
  });
});

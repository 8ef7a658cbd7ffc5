import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { beforeAll, describe, expect, it } from 'vitest';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { panelData } from '../../../../server/src/lsp/requests/panel.ts';
import type { PanelData } from '../../../../server/src/protocol/panel/panelData.ts';
import type { PanelView } from '../../../../server/src/protocol/panel/views.ts';
import { harborRoute, openEditor, uriOf, type Editor } from '../editor.ts';

const samples = join(import.meta.dirname, '../../../../samples');
const sample = Object.fromEntries(
  readdirSync(samples)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => [name, readFileSync(join(samples, name), 'utf8')]),
);
const TODAY = '2026-11-16T18:00';

function ask({ services }: Editor, view: PanelView): PanelData {
  const params = { uri: uriOf('lanternfall.route.yaml'), view, technique: null, objective: 'time' } as const;
  return runToCompletion(panelData(services, { ...params, wait: true }));
}

describe('the reports in the panel of the sample', () => {
  let editor: Editor;
  beforeAll(async () => {
    editor = await openEditor(sample, { today: TODAY });
  });

  // From memory: a distribution function rises with the time, and reaches the share of the runs that finish.
  it('gives chances that rise with the time up to that of reaching the end, the target among them', () => {
    const { chances, facts, bests } = ask(editor, 'odds').odds!;
    const per = chances.map(({ chance }) => Number(/^(\d+) %$/.exec(chance)?.[1]));
    expect(per.length).toBeGreaterThan(5);
    expect(per).toEqual([...per].sort((a, b) => a - b));
    const textOf = (label: string): string => facts.find((fact) => fact.label === label)?.text ?? '';
    expect(textOf('Reach the end')).toMatch(new RegExp(`^${per.at(-1)} %`));
    const aimed = chances.filter(({ isTarget }) => isTarget);
    expect(aimed).toEqual([{ time: '41:30', chance: textOf('Beat 41:30').split(' of')[0], isTarget: true }]);
    expect(bests.map(({ runs }) => runs)).toEqual(['1', '5', '10', '25', '50', '100']);
    const times = bests.map(({ best }) => best);
    expect(times).toEqual([...times].sort().reverse());
  });

  it('reviews a week without runs, and says so', () => {
    const { summary, rows } = ask(editor, 'review').review!;
    expect(rows).toEqual([]);
    expect(summary).toMatch(/^No technique was tried in a run from 2026-11-09 to 2026-11-16,/);
  });

  /** The view after a run of the sample. */
  const afterRun = (run?: string) => {
    const look = {
      view: 'after',
      technique: null,
      objective: 'time',
      ...(run !== undefined && { run }),
    } as const;
    const params = { uri: uriOf('lanternfall.route.yaml'), ...look, wait: true };
    return runToCompletion(panelData(editor.services, params)).after!;
  };

  // From memory: a difference is the second less the first, and the whole is the sum of its parts.
  it('holds a run against the usual, segment by segment and as a whole', () => {
    const { run, runs, summary, differences } = afterRun('2026-11-08T16:10');
    expect(run).toBe('2026-11-08T16:10');
    expect(runs[0]).toEqual({ run: '2026-11-08T16:52', label: '2026-11-08 16:52, 41:51.5' });
    expect(runs).toContainEqual({ run, label: '2026-11-08 16:10, 41:39.2' });
    const segments = differences.rows.filter(({ isTotal }) => !isTotal);
    const [total] = differences.rows.filter(({ isTotal }) => isTotal);
    expect(segments).toHaveLength(17);
    const sum = segments.reduce((seconds, { delta }) => seconds + delta!, 0);
    expect(total!.delta).toBeCloseTo(sum, 9);
    for (const { delta, words } of differences.rows)
      expect(words).toBe(`${Math.abs(delta!).toFixed(1)} s ${delta! < 0 ? 'faster' : 'slower'} than usual`);
    expect(summary).toBe(`The run took ${total!.second}, ${total!.words}.`);
  });

  it('shows the last run where none is named, also one with a total alone', () => {
    const { run, summary, differences } = afterRun();
    expect(run).toBe('2026-11-08T16:52');
    expect(differences.rows).toMatchObject([{ name: 'The whole run', isTotal: true, second: '41:51.5' }]);
    expect(summary).toMatch(/^The run took 41:51\.5, /);
  });

  it('compares of a run that ended early what was played', () => {
    const { summary, differences } = afterRun('2026-11-08T15:50');
    expect(summary).toMatch(
      /^The run ended in Net lofts\. The segments before that, together, went [\d.]+ s \w+ than usual\.$/,
    );
    expect(differences.rows.at(-1)!.name).toBe('These segments together');
    expect(differences.rows.map(({ id }) => id)).not.toContain('net-lofts');
  });

  it('says where no run is logged what writes one', async () => {
    const { services, uri } = await openEditor({ 'lanternfall.route.yaml': harborRoute }, { today: TODAY });
    const params = { uri, view: 'after', technique: null, objective: 'time', wait: true } as const;
    const data = runToCompletion(panelData(services, params));
    expect(data.after).toBeNull();
    expect(data.message).toMatch(
      /^No single run is logged yet\. Log one with Log Run: this view then compares it with the usual\.$/,
    );
  });

  it('names in the review what slipped, first and with what was expected', async () => {
    const earlier = await openEditor(sample, { today: '2026-11-09T18:00' });
    const { summary, rows, parts } = ask(earlier, 'review').review!;
    expect(summary).toMatch(/were tried in runs from 2026-11-02 to 2026-11-09\./);
    expect(summary).toContain('Slipped: Net climb (landed 0 of 6, expected 82 %).');
    // The summary says which days count; nothing else says so again, or otherwise.
    expect(JSON.stringify(parts)).not.toContain('looks back');
    expect(rows.map(({ slipped }) => slipped)).toEqual(rows.map((_, i) => i === 0));
    for (const { landed, expected, tries } of rows) {
      expect(landed).toBeLessThanOrEqual(tries);
      expect(expected).toBeLessThanOrEqual(tries);
    }
    // The counts are those of the report in words.
    const counts = parts.find((part) => part.kind === 'table');
    const cells = counts?.kind === 'table' ? counts.rows.filter(([, , , runs]) => runs !== '·') : [];
    expect(cells.map(([name, , , runs]) => [name, runs]).sort()).toEqual(
      rows.map(({ name, landed, tries }) => [name, `${landed}/${tries}`]).sort(),
    );
  });
});

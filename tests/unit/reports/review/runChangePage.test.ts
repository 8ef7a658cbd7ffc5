import { describe, expect, test } from 'vitest';
import type { StandingKind } from '../../../../server/src/model/core/types.ts';
import { reviewWeek } from '../../../../server/src/model/review/reviewWeek.ts';
import { panelParts } from '../../../../server/src/reports/panel/panelParts.ts';
import { reviewReport, type ReviewReport } from '../../../../server/src/reports/review/reviewReport.ts';
import { runChangePage } from '../../../../server/src/reports/review/runChangePage.ts';
import { plainOptions, route, runTries, segment, technique, use } from '../../../helpers/invented.ts';
import { viewMarkdown } from '../../../helpers/viewMarkdown.ts';

const names = new Map([
  ['gate-roll', 'Gate roll'],
  ['lamp-hop', 'Lamp hop'],
]);

/** The review after so many runs; `last` is what the gate roll did on the last evening, if there was one. */
function review(last?: readonly [landed: number, tries: number]): ReviewReport {
  const techniques = [...names.keys()].map((id) => technique(id, { state: 'in-run' }));
  const segments = techniques.map(({ id }) => segment(`s-${id}`, 60, [use(id, 4, 2)]));
  const earlier = [0, 3, 6, 10, 13].flatMap((day) => [
    runTries('gate-roll', day, 18, 22),
    runTries('lamp-hop', day, 10, 12),
  ]);
  const runs = last ? [...earlier, runTries('gate-roll', 24, ...last)] : earlier;
  const logs = { practice: [], runs };
  const input = { route: route(segments, techniques), logs, asOfDay: 25, options: plainOptions };
  return reviewReport(reviewWeek(input), { names, difficulties: new Map() });
}

/** The parts of the page as the panel copies them. */
function page(before: ReviewReport, after: ReviewReport): string {
  const { parts } = runChangePage(before, after, names, 'After the run');
  return viewMarkdown({ review: { summary: '', rows: [], parts: panelParts(parts) } });
}

describe('the page after a run', () => {
  test('says which technique stands elsewhere, from where to where, and why', () => {
    const text = page(review(), review([5, 22]));
    expect(text).toMatch(/Gate roll: in the run → to work on again\. It landed 5 of 22 in the last week/);
    expect(text).not.toMatch(/Lamp hop: .*→/);
    expect(text).toContain('The run tried Gate roll.');
  });

  test('says what the rates and the break-even mean, above them and in their heads', () => {
    const text = page(review(), review([18, 22]));
    expect(text).toContain('| Before (80 % range) | Now (80 % range) | Break-even |');
    expect(text.indexOf('Break-even: from this rate on, trying it saves time.')).toBeGreaterThan(0);
    expect(text.indexOf('Break-even: from this')).toBeLessThan(text.indexOf('| Technique | This run |'));
  });

  test('says that nothing changed where nothing did', () => {
    const text = page(review(), review([18, 22]));
    expect(text).toContain('Every technique stands where it stood before the run');
    expect(text).not.toContain('→');
  });

  test('puts what is to be worked on again before what became competent', () => {
    const stands = (report: ReviewReport, ...kinds: StandingKind[]): ReviewReport => ({
      ...report,
      standings: report.standings.map((one, i) => ({ ...one, standing: kinds[i]! })),
    });
    const text = page(stands(review(), 'again', 'in-run'), stands(review([18, 22]), 'in-run', 'again'));
    expect(text.indexOf('Lamp hop: in the run → to work on again')).toBeGreaterThan(0);
    expect(text.indexOf('Lamp hop: in the run → to work on again')).toBeLessThan(
      text.indexOf('Gate roll: to work on again → in the run'),
    );
  });
});

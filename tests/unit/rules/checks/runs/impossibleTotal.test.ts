import { describe, expect, it } from 'vitest';
import { runs } from '../../builders/plainLogs.ts';
import { expectMarked } from '../../marked.ts';

describe('impossible-total', () => {
  const route = `game: L
category: c
segments:
  - { id: harbor, time: 100, spread: 1, techniques: [vault] }
  - { id: pier, time: 100, spread: 1, luck: [{ chance: 0.5, adds: -5 }] }
techniques:
  vault: { difficulty: 3, saves: 10 }
`;
  const of = (...entries: string[]) => ({ 'a.route.yaml': route, 'a.runs.yaml': runs(...entries) });

  it('is found where segments take longer than the total, or all of them do not add up to it', async () => {
    const findings = await expectMarked(
      of(
        'start: 2026-10-05, total: ⟦1:39⟧, times: { harbor: 99.6 }',
        'start: 2026-10-06, total: ⟦3:18⟧, times: { harbor: 99, pier: 98 }',
        'start: 2026-10-07, total: 3:17.4, times: { harbor: 99, pier: 98 }',
        'start: 2026-10-08, total: 3:16.6, times: { harbor: 99, pier: 98 }',
      ),
      'impossible-total',
    );
    expect(findings.map(({ message }) => message.split('.')[0])).toEqual([
      'The segments of this run take 1:39',
      'The segments of this run add up to 3:17',
    ]);
  });

  it('is found below what the route can give with everything landed and the best of luck', async () => {
    // 200 − 10 saved − 5 of luck − 4 × √2 of spread = 179.3 s.
    const [finding] = await expectMarked(
      of('start: 2026-10-05, total: ⟦2:58⟧', 'start: 2026-10-06, total: 2:59.2'),
      'impossible-total',
    );
    expect(finding?.message).toContain('about 2:59.3 with every technique landed');
  });

  it("takes the runner's own times where they are faster", async () => {
    await expectMarked(
      {
        ...of('start: 2026-10-05, total: 2:49'),
        'a.week.yaml': 'route: a.route.yaml\ntimes: { pier: { time: 90 } }\n',
      },
      'impossible-total',
    );
  });
});

import { describe, expect, it } from 'vitest';
import { exampleRoute } from '../../../../../server/src/rules/engine/exampleFiles.ts';
import { codes, log, session } from '../../builders/sessions.ts';
import { expectMarked, underlined } from '../../marked.ts';

describe('overlapping-entries', () => {
  const code = 'overlapping-entries';

  it('is found between sessions and runs, and leaves minutes for rounding', async () => {
    const practice = log(session('2026-10-05T19:30', 'crate-vault 25'));
    const runs = (start: string) => ({
      ...practice,
      'a.runs.yaml': `route: a.route.yaml\nruns: [{ start: ${start}, total: 3:35 }]\n`,
    });
    const [finding] = await expectMarked(runs('⟦2026-10-05T19:49⟧'), code);
    expect(finding?.related.map((place) => underlined(practice, place))).toEqual([
      'a.practice.yaml: 2026-10-05T19:30',
    ]);
    expect(await codes(runs('2026-10-05T19:51'))).toEqual([]);
    expect(await codes(runs('2026-10-05'))).toEqual([]);
  });

  it('looks beyond a short entry to a long one before it, and counts runners apart', async () => {
    await expectMarked(
      log(
        session('2026-10-05T19:00', 'crate-vault 50', 'lamp-hop 40'),
        session('⟦2026-10-05T19:10⟧', 'rope-swing 5'),
        session('⟦2026-10-05T20:00⟧', 'rope-swing 5'),
      ),
      code,
    );
    const of = (runner: string) =>
      `runner: ${runner}\nroute: a.route.yaml\nsessions:\n${session('2026-10-05T19:30', 'crate-vault 25')}`;
    const two = { 'a.route.yaml': exampleRoute, '1.practice.yaml': of('Ann'), '2.practice.yaml': of('Bob') };
    expect(await codes(two, { runner: 'Ann' })).toEqual([]);
  });
});

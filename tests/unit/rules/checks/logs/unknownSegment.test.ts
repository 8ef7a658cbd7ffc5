import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { expectMarked, findingsOf, fixed, plainRoute } from '../../marked.ts';

describe('unknown-segment', () => {
  it('is found in blocks, times, endings and own times', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.practice.yaml':
        'route: a.route.yaml\nsessions:\n  - { start: 2026-10-05, blocks: [{ segment: ⟦harbr⟧, minutes: 5 }] }\n',
      'a.runs.yaml': `route: a.route.yaml
runs:
  - { start: 2026-10-05T20:00, times: { ⟦harbour⟧: 1:31, harbor: 1:30 } }
  - { start: 2026-10-05T21:00, ended: { at: ⟦lighthouse⟧, why: death } }
  - { date: 2026-10-06, runs: 4, ended: { ⟦habor⟧: { reset: 1, death: 1 }, harbor: { reset: 2 } } }
`,
      'a.week.yaml': 'route: a.route.yaml\ntimes: { ⟦harbur⟧: { time: 90 }, harbor: { time: 91 } }\n',
    };
    const findings = await expectMarked(files, 'unknown-segment');
    expect(findings.map(({ fix }) => fix?.text)).toEqual([
      'harbor',
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    // Where the map has the right key as well, a second one would be no remedy.
    expect(findings[1]?.message).toContain('Did you mean `harbor`?');
    expect(findings[2]?.message).toBe(
      'No segment of the route has the id `lighthouse`. Add it under `segments`, or correct the id.',
    );
  });

  it('offers the nearest name as a key where it does not stand there yet', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.runs.yaml': 'route: a.route.yaml\nruns: [{ start: 2026-10-05, times: { ⟦harbour⟧: 1:31 } }]\n',
      'a.week.yaml': 'route: a.route.yaml\ntimes:\n  ⟦harbur⟧: { time: 90 } # mine\n',
    };
    await expectMarked(files, 'unknown-segment');
    const mended = await fixed(files);
    expect(mended['a.week.yaml']).toBe('route: a.route.yaml\ntimes:\n  harbor: { time: 90 } # mine\n');
    expect(await findingsOf(mended)).toEqual([]);
  });

  it('counts a segment as known while it has no time yet', async () => {
    const findings = await findingsOf({
      'a.route.yaml': plainRoute.replace('time: 1:30', 'time:'),
      'a.runs.yaml': 'route: a.route.yaml\nruns: [{ start: 2026-10-05, times: { harbor: 90 } }]\n',
    });
    expect(findings.length).toBeGreaterThan(0);
    expect(findings.map(({ code }) => code)).not.toContain('unknown-segment');
  });
});

describeFixOnSample('unknown-segment', [{ file: 'runs', from: 'at: tide-stairs', to: 'at: tide-stair' }], {
  restores: true,
});

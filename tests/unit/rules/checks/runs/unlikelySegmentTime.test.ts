import { describe, expect, it } from 'vitest';
import { codes, ran, start } from '../../builders/exampleRuns.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

describe('unlikely-segment-time', () => {
  const code = 'unlikely-segment-time';
  const ended = 'ended: { at: rope-yard, why: reset }';

  it('is found for times faster than everything landed, and four times as slow as usual', async () => {
    // 92.4 s less 3.2 and 7.5 is 81.7 s, less five times a spread of 1.1 s and half a second 75.7 s.
    await expectMarked(ran(`${start}, times: { harbor: ⟦75.6⟧ }, ${ended}`), code);
    expect(await codes(`${start}, times: { harbor: 75.8 }, ${ended}`)).toEqual([]);
    await expectMarked(ran(`${start}, times: { harbor: ⟦6:10⟧ }, ${ended}`), code);
    expect(await codes(`${start}, times: { harbor: 6:09 }, ${ended}`)).toEqual([]);
  });

  it("takes the runner's own usual time where that is faster", async () => {
    const files = {
      ...ran(`${start}, times: { harbor: 72 }, ${ended}`),
      'a.week.yaml': 'route: a.route.yaml\ntimes: { harbor: { time: 85 } }\n',
    };
    expect(await findingsOf(files)).toEqual([]);
  });
});

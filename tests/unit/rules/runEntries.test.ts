import { describe, expect, it } from 'vitest';
import { exampleRoute } from '../../../server/src/rules/engine/exampleFiles.ts';
import { expectMarked, findingsOf, underlined } from './marked.ts';

const ran = (...entries: string[]) => ({
  'a.route.yaml': exampleRoute,
  'a.runs.yaml': `route: a.route.yaml\nruns:\n${entries.map((run) => `  - { ${run} }\n`).join('')}`,
});
const codes = async (...entries: string[]) => (await findingsOf(ran(...entries))).map(({ code }) => code);
const start = 'start: 2026-10-05T20:00';

describe('after-the-end', () => {
  const code = 'after-the-end';

  it('is found for times of the segment where it ended and of later ones, and for a final time', async () => {
    const late = `${start}, times: { harbor: 1:31, ⟦rope-yard⟧: 2:05 }, ended: { at: rope-yard, why: death }`;
    const [finding] = await expectMarked(ran(late), code);
    expect(finding?.related.map((place) => underlined(ran(late), place))).toEqual(['a.runs.yaml: ended']);
    await expectMarked(ran(`${start}, ⟦total⟧: 3:35, ended: { at: rope-yard, why: reset }`), code);
    expect(await codes(`${start}, times: { harbor: 1:31 }, ended: { at: rope-yard, why: death }`)).toEqual(
      [],
    );
  });

  it('says nothing of evenings in short', async () => {
    expect(await codes('date: 2026-10-05, runs: 9, ended: { harbor: { reset: 8 } }')).toEqual([]);
  });
});

describe('run-without-end', () => {
  const code = 'run-without-end';

  it('is found where the last segment has no time, and names the one that would have come next', async () => {
    const [finding] = await expectMarked(ran(`${start}, ⟦times⟧: { harbor: 1:31 }`), code);
    expect(finding?.message).toContain('1 segment out of 2');
    expect(finding?.message).toContain('at: rope-yard');
  });

  it('is not found for a run with its end, its total, all its times, or none', async () => {
    expect(await codes(`${start}, times: { harbor: 1:31 }, total: 3:35`)).toEqual([]);
    expect(await codes(`${start}, times: { harbor: 1:31, rope-yard: 2:05 }`)).toEqual([]);
    expect(await codes(`${start}, times: { rope-yard: 2:05 }`)).toEqual([]);
    expect(await codes(`${start}, tried: { lamp-hop: [1, 1] }`)).toEqual([]);
  });
});

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

describe('tried-too-often', () => {
  const code = 'tried-too-often';

  it('counts uses, retries and runs', async () => {
    await expectMarked(
      ran(`${start}, total: 3:35, tried: { crate-vault: ⟦[1, 2]⟧, rope-swing: [1, 3] }`),
      code,
    );
    await expectMarked(ran(`${start}, total: 3:35, tried: { rope-swing: ⟦[1, 4]⟧ }`), code);
    await expectMarked(
      ran('date: 2026-10-05, runs: 9, finished: 2, tried: { crate-vault: ⟦[3, 10]⟧ }'),
      code,
    );
    expect(await codes('date: 2026-10-05, runs: 9, finished: 2, tried: { crate-vault: [3, 9] }')).toEqual([]);
  });

  it('counts a backup as a use of its own, and each use by its id', async () => {
    const route = exampleRoute.replace(
      '      - crate-vault\n',
      '      - { use: crate-vault, backup: lamp-hop }\n      - { use: crate-vault, id: second }\n',
    );
    const files = (tried: string) => ({
      ...ran(`${start}, total: 3:35, tried: { ${tried} }`),
      'a.route.yaml': route,
    });
    expect(await findingsOf(files('lamp-hop: [1, 2], crate-vault: [1, 2]'))).toEqual([]);
    await expectMarked(files('lamp-hop: ⟦[1, 3]⟧, crate-vault@second: ⟦[1, 2]⟧'), code);
  });
});

describe('first-exceeds-tried', () => {
  it('is found for landed and for tries, by the same name', async () => {
    const code = 'first-exceeds-tried';
    const run = (tried: string, first: string) =>
      ran(`${start}, total: 3:35, tried: { rope-swing: ${tried} }, first: { rope-swing: ${first} }`);
    await expectMarked(run('[1, 2]', '⟦[0, 3]⟧'), code);
    await expectMarked(run('[0, 2]', '⟦[1, 1]⟧'), code);
    expect(await findingsOf(run('[1, 2]', '[1, 2]'))).toEqual([]);
  });
});

describe('ended-by-another', () => {
  it('is found for a technique that the segment neither uses nor falls back on', async () => {
    const by = (where: string, what: string) => `${start}, ended: { at: ${where}, why: miss, by: ${what} }`;
    const [finding] = await expectMarked(ran(by('harbor', '⟦lamp-hop⟧')), 'ended-by-another');
    expect(finding?.message).toContain('It uses `crate-vault` and `rope-swing`.');
    expect(await codes(by('harbor', 'rope-swing'))).toEqual([]);
    const route = exampleRoute.replace('- crate-vault\n', '- { use: crate-vault, backup: lamp-hop }\n');
    expect(await findingsOf({ ...ran(by('harbor', 'lamp-hop')), 'a.route.yaml': route })).toEqual([]);
  });
});

describe('target-already-beaten', () => {
  const code = 'target-already-beaten';
  const totals = (...times: string[]) =>
    ran(...times.map((total, at) => `start: 2026-10-05T20:${10 + 4 * at}, total: ${total}`));
  const week = (target: string) => ({ 'a.week.yaml': `route: a.route.yaml\ntarget: ${target}\n` });

  it('is found where more than half of five runs or more were faster', async () => {
    await expectMarked({ ...totals('3:36', '3:38', '3:39', '3:41', '3:42'), ...week('⟦"3:40"⟧') }, code);
    expect(await findingsOf({ ...totals('3:36', '3:38', '3:41', '3:42'), ...week('"3:40"') })).toEqual([]);
    const half = totals('3:36', '3:38', '3:39', '3:41', '3:42', '3:43');
    expect(await findingsOf({ ...half, ...week('"3:40"') })).toEqual([]);
  });

  it("speaks of the route's target where the week has none", async () => {
    const files = {
      ...totals('3:36', '3:38', '3:39', '3:41', '3:42'),
      'a.route.yaml': exampleRoute.replace('restart: 14', 'restart: 14\ntarget: ⟦"3:40"⟧'),
    };
    await expectMarked(files, code);
  });
});

import { describe, expect, it } from 'vitest';
import type { Assessment } from '../../../server/src/model/core/types.ts';
import { exampleRoute } from '../../../server/src/rules/engine/exampleFiles.ts';
import { expectMarked, expectMarkedForecast, findingsOf, fixed, forecastsOf, underlined } from './marked.ts';

// Blocks of 20 to 30 minutes, four to six techniques in two hours, no more than an hour a day on one movement, better
// six days of 30 minutes than one sitting of three hours: P, common practice among runners.

/** `crate-vault 25` is a block of 25 minutes; what follows a semicolon stands in it as well. */
const session = (start: string, ...blocks: string[]) =>
  `  - start: ${start}\n    blocks:\n${blocks
    .map((block) => {
      const [, technique = '', minutes = '', rest = ''] = /^(\S+) (\S+?)(?:; (.*))?$/.exec(block) ?? [];
      return `      - { technique: ${technique}, minutes: ${minutes}${rest === '' ? '' : `, ${rest}`} }\n`;
    })
    .join('')}`;
const log = (...sessions: string[]) => ({
  'a.route.yaml': exampleRoute,
  'a.practice.yaml': `route: a.route.yaml\nsessions:\n${sessions.join('')}`,
});
const codes = async (...given: Parameters<typeof findingsOf>) =>
  (await findingsOf(...given)).map(({ code }) => code);

describe('one-technique-session', () => {
  const code = 'one-technique-session';
  const other = session('2026-10-05T19:00', 'lamp-hop 25', 'crate-vault 25');

  it('is found from 40 minutes on, up to the hour from which a day is too long anyway', async () => {
    await expectMarked(log(other, session('⟦2026-10-06T19:00⟧', 'crate-vault 20', 'crate-vault 20')), code);
    expect(await codes(log(other, session('2026-10-06T19:00', 'crate-vault 39')))).toEqual([]);
    expect(await codes(log(other, session('2026-10-06T19:00', 'crate-vault 61')))).toEqual(['long-day']);
  });

  it('is not found where nothing else is being learned, nor long ago', async () => {
    expect(await codes(log(session('2026-10-06T19:00', 'crate-vault 25', 'crate-vault 25')))).toEqual([]);
    const later = session('2026-10-07T19:00', 'lamp-hop 25', 'crate-vault 25');
    const old = log(session('2026-10-06T19:00', 'crate-vault 50'), later);
    expect(await codes(old, { today: '2026-10-20' })).toEqual([code]);
    expect(await codes(old, { today: '2026-10-21' })).toEqual([]);
  });
});

describe('no-night-between', () => {
  it('is found where another day of practice was there to take a block', async () => {
    const twice = ['rope-swing 25', 'lamp-hop 25'];
    const files = (day: string) =>
      log(
        session(day, 'lamp-hop 25'),
        session('2026-10-08T18:00', ...twice),
        session('2026-10-08T21:00', '⟦rope-swing⟧ 25', 'lamp-hop 25'),
      );
    const [finding] = await expectMarked(files('2026-10-02T19:00'), 'no-night-between');
    expect(finding?.message).toContain('50 minutes of `rope-swing`, all on one day');
    expect(await codes(log(session('2026-10-08T18:00', ...twice, ...twice)))).toEqual([]);
  });

  it('counts the hours after midnight to the evening before', async () => {
    await expectMarked(
      log(
        session('2026-10-05T19:00', 'lamp-hop 25'),
        session('2026-10-06T23:00', 'rope-swing 25', 'lamp-hop 20'),
        session('2026-10-07T00:30', '⟦rope-swing⟧ 25', 'lamp-hop 20'),
      ),
      'no-night-between',
    );
  });
});

describe('long-practice-logged', () => {
  it('is found above two hours of a day, at the session that passes them, and speaks of hands', async () => {
    const evening = ['crate-vault 30', 'rope-swing 30'];
    const files = log(
      session('2026-10-05T10:00', ...evening),
      session('2026-10-05T15:00', 'lamp-hop 30', 'crate-vault 30'),
    );
    expect(await codes(files)).toEqual([]);
    const [finding] = await expectMarked(
      log(
        session('2026-10-05T10:00', ...evening),
        session('⟦2026-10-05T15:00⟧', 'lamp-hop 30', 'crate-vault 30', 'rope-swing 5'),
      ),
      'long-practice-logged',
    );
    expect(finding?.message).toMatch(/hands and wrists.*see a clinician/);
    expect(finding?.severity).toBe('hint');
  });
});

describe('cycle-slower-than-written', () => {
  const code = 'cycle-slower-than-written';
  /** A cycle of 5 s is written: 300 attempts in 25 minutes. */
  const evenings = (...tries: number[]) =>
    log(...tries.map((n, at) => session(`2026-10-0${at + 1}T19:00`, `crate-vault 25; attempts: ${n}`)));

  it('is found from one and a half times the written cycle on, by the block in the middle', async () => {
    expect(await codes(evenings(200, 200, 200))).toEqual([]);
    const [finding] = await findingsOf(evenings(199, 100, 250));
    expect(finding?.code).toBe(code);
    expect(finding?.message).toContain('about every 7.5 s, and a cycle of 5 s is written');
    // The quickest block had 250 attempts, one every 6 s.
    expect(finding?.message).toContain('`reload: 2`');
    expect(finding?.fix).toMatchObject({ text: '2', onRequest: true });
    expect(underlined(evenings(), finding!)).toBe('a.route.yaml: practice');
  });

  it('is not found from two blocks only, nor from one that was interrupted', async () => {
    expect(await codes(evenings(90, 90))).toEqual([]);
    expect(await codes(evenings(290, 40, 280))).toEqual([]);
  });
});

describe('block-not-counted', () => {
  it('is found where neither technique nor what was tried is written', async () => {
    const practice = (block: string) => ({
      'a.route.yaml': exampleRoute,
      'a.practice.yaml': `route: a.route.yaml\nsessions: [{ start: 2026-10-05, blocks: [{ ${block} }] }]\n`,
    });
    const code = 'block-not-counted';
    await expectMarked(practice('⟦minutes⟧: 25'), code);
    await expectMarked(practice('⟦segment⟧: harbor, minutes: 25'), code);
    await expectMarked(
      practice('technique: crate-vault, minutes: 25, ⟦tried⟧: { crate-vault: [1, 2] }'),
      code,
    );
    expect(await codes(practice('segment: harbor, minutes: 25, tried: { crate-vault: [1, 2] }'))).toEqual([]);
  });
});

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

describe('logged-twice', () => {
  const code = 'logged-twice';

  it('is found for what says the same at the same time, and the fix takes the second one out', async () => {
    const one = session('2026-10-05T19:30', 'crate-vault 25; landed: [61, 104]');
    const files = log(one, one.replace('2026-10-05T19:30', '⟦2026-10-05T19:30⟧'));
    await expectMarked(files, code);
    expect((await fixed(files))['a.practice.yaml']).toBe(log(one)['a.practice.yaml']);
    expect(await codes(log(one, one.replace('61', '60')))).toEqual([]);
  });

  it('is found for blocks with one id, also where only one of them was corrected', async () => {
    const block = (rest: string) => `      - { ${rest} }\n`;
    const files = (second: string) => ({
      'a.route.yaml': exampleRoute,
      'a.practice.yaml': `route: a.route.yaml\nsessions:\n  - start: 2026-10-05T19:30\n    blocks:\n${block('id: b-1, technique: crate-vault, minutes: 25, landed: [6, 10]')}${block(second)}`,
    });
    const same = files('id: ⟦b-1⟧, technique: crate-vault, minutes: 25, landed: [6, 10]');
    const [finding] = await expectMarked(same, code);
    expect(finding?.fix?.title).toBe('Take this entry out');
    const [other] = await expectMarked(
      files('id: ⟦b-1⟧, technique: crate-vault, minutes: 20, landed: [6, 10]'),
      code,
    );
    expect(other?.fix).toBeUndefined();
  });

  it('is not found for two short runs of an evening without a time of day', async () => {
    const runs =
      'route: a.route.yaml\nruns:\n  - { start: 2026-10-05, ended: { at: harbor, why: reset } }\n  - { start: 2026-10-05, ended: { at: harbor, why: reset } }\n';
    expect(await codes({ 'a.route.yaml': exampleRoute, 'a.runs.yaml': runs })).toEqual([]);
  });
});

const rate = (mean: number, low: number) => ({ mean, low, high: Math.min(1, 2 * mean - low) });
const says = (id: string, chance: number, practice = rate(0.97, 0.95)): ReadonlyMap<string, Assessment> =>
  new Map([
    [id, { practiceNow: practice, runNow: practice, breakEven: 0.3, chanceAboveBreakEvenNow: chance }],
  ]);

describe('drilled-past-use', () => {
  const code = 'drilled-past-use';
  const files = log(session('2026-10-05T19:00', 'lamp-hop 25'), session('2026-10-06T19:00', '⟦lamp-hop⟧ 25'));
  const plain = log(session('2026-10-05T19:00', 'lamp-hop 25'), session('2026-10-06T19:00', 'lamp-hop 25'));

  it('is found where it is competent, lands nearly always, and had two blocks in a week', async () => {
    const [finding] = await expectMarkedForecast(files, code, says('lamp-hop', 0.99));
    expect(finding?.message).toContain('about 97 % of the time in practice (95 % or more)');
  });

  it('is not found where either is in doubt, or practice is over', async () => {
    expect(await forecastsOf(plain, says('lamp-hop', 0.79))).toEqual([]);
    expect(await forecastsOf(plain, says('lamp-hop', 0.99, rate(0.95, 0.89)))).toEqual([]);
    expect(await forecastsOf(plain, says('lamp-hop', 0.99), { today: '2026-10-13' })).toEqual([]);
    const surer = { ...plain, 'a.week.yaml': 'route: a.route.yaml\nconfidence: 0.95\n' };
    expect(await forecastsOf(surer, says('lamp-hop', 0.94))).toEqual([]);
  });
});

describe('gap-in-practice', () => {
  const code = 'gap-in-practice';
  const open = says('rope-swing', 0.3, rate(0.3, 0.2));
  const files = (after: string) =>
    log(
      session('2026-10-01T19:00', 'rope-swing 25'),
      session('2026-10-02T19:00', 'rope-swing 25'),
      session(after, 'rope-swing 25'),
    );
  const week = (rest: string) => ({ 'a.week.yaml': `route: a.route.yaml\n${rest}` });

  it('is found from six days on, and not for days off', async () => {
    await expectMarkedForecast(files('⟦2026-10-09T19:00⟧'), code, open);
    expect(await forecastsOf(files('2026-10-08T19:00'), open)).toEqual([]);
    const off = week('off: [2026-10-05]\n');
    expect(await forecastsOf({ ...files('2026-10-09T19:00'), ...off }, open)).toEqual([]);
  });

  it('counts the days that the week has time on, where it says so', async () => {
    // The 1st of October 2026 is a Thursday: between the 2nd and the 13th lie the 6th, 7th and 8th and no other.
    const days = week('days: { tue: 60, wed: 60, thu: 60 }\n');
    await expectMarkedForecast({ ...files('⟦2026-10-13T19:00⟧'), ...days }, code, open);
    expect(await forecastsOf({ ...files('2026-10-08T19:00'), ...days }, open)).toEqual([]);
  });

  it('is not found where what was practised is competent, or was not taken up again', async () => {
    expect(await forecastsOf(files('2026-10-09T19:00'), says('rope-swing', 0.9))).toEqual([]);
    const another = log(
      session('2026-10-01T19:00', 'rope-swing 25'),
      session('2026-10-02T19:00', 'rope-swing 25'),
      session('2026-10-09T19:00', 'rope-swing 25').replace('rope-swing', 'crate-vault'),
    );
    expect((await forecastsOf(another, open)).map((finding) => finding.code)).not.toContain(code);
  });
});

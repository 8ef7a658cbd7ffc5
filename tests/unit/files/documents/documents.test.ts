import { describe, expect, it } from 'vitest';
import { parseMoment } from '../../../../server/src/text/calendar.ts';
import {
  buildPracticeDocument,
  buildRunsDocument,
} from '../../../../server/src/files/documents/logDocuments.ts';
import { readSource } from '../../../../server/src/files/reading/reading.ts';
import { buildRouteDocument } from '../../../../server/src/files/documents/routeDocument.ts';
import { weekDefaults, buildWeekDocument } from '../../../../server/src/files/documents/weekDocument.ts';
import { practiceText, routeText, runsText, weekText } from '../yaml/texts.ts';

describe('routeOf', () => {
  const route = buildRouteDocument(readSource('route', routeText));

  it('writes short forms out', () => {
    expect(route).toMatchObject({
      game: 'Lanternfall',
      category: 'any%',
      target: 2490,
      restart: 14,
      extends: undefined,
    });
    expect(route.segments.map(({ id, time }) => [id, time])).toEqual([
      ['harbor', 92.4],
      ['rope-yard', 128],
      ['fish-market', 163.5],
    ]);
    const [harbor, yard] = route.segments;
    expect(harbor).toMatchObject({
      name: 'Harbor gate',
      spread: 1.1,
      survive: 1,
      luck: [{ chance: 0.4, adds: 9 }],
    });
    // Left out, the spread is 2 % of the time, as its description in the schema says.
    expect(yard).toMatchObject({ name: "Rope 'n' yard", spread: 0.02 * 128, uses: [] });
    expect(harbor!.uses[0]).toMatchObject({
      technique: 'crate-vault',
      short: true,
      costs: 0,
      path: ['segments', 0, 'techniques', 0],
    });
    expect(harbor!.uses[1]).toMatchObject({
      technique: 'lamp-clip',
      short: false,
      spot: 'gate',
      backup: 'lamp-hop',
      loses: { mean: 9, sd: 0 },
    });
    expect(harbor!.uses[1]!.saves!.mean).toBe(12.5);
  });

  it('takes techniques in the order of the file, with their defaults', () => {
    expect(route.techniques.map(({ id }) => id)).toEqual([
      'crate-vault',
      'wall-kick',
      'lamp-clip',
      'lamp-hop',
      'rope-swing',
    ]);
    const [vault, kick, clip] = route.techniques;
    expect(vault).toMatchObject({
      difficulty: 4,
      saves: { mean: 3.2, sd: 0 },
      needs: [{ id: 'wall-kick', path: ['techniques', 'crate-vault', 'needs', 0] }],
      practice: { attempt: 4, reload: 1, from: 'quay, left of the crates' },
    });
    expect(kick).toMatchObject({ name: 'wall-kick', practice: { attempt: 5, reload: 3, from: undefined } });
    expect(clip!.miss).toEqual([
      { chance: 0.7, loses: 2, endsRun: false },
      { chance: 0.3, loses: 0, endsRun: true },
    ]);
  });

  it('keeps the places in the file when an entry before is left out', () => {
    const text = routeText.replace('    time: 1:32.4\n', '').replace('[wall-kick]', '[Bad, wall-kick]');
    const broken = buildRouteDocument(readSource('route', text));
    expect(broken.segments.map(({ id, path }) => [id, path])).toEqual([
      ['rope-yard', ['segments', 1]],
      ['fish-market', ['segments', 2]],
    ]);
    expect(broken.techniques[0]!.needs).toEqual([
      { id: 'wall-kick', path: ['techniques', 'crate-vault', 'needs', 1] },
    ]);
  });

  it('leaves out what cannot be told: a range the wrong way round', () => {
    const ids = buildRouteDocument(
      readSource('route', routeText.replace('saves: 9..16\n', 'saves: 16..9\n')),
    ).techniques.map(({ id }) => id);
    expect(ids).not.toContain('lamp-clip');
  });

  it('makes an empty route of an empty file', () => {
    expect(buildRouteDocument(readSource('route', ''))).toMatchObject({
      game: undefined,
      segments: [],
      techniques: [],
      restart: 10,
    });
  });
});

describe('practiceOf', () => {
  it('reads sessions, blocks and counts', () => {
    const { route, runner, sessions } = buildPracticeDocument(readSource('practice', practiceText));
    expect([route, runner]).toEqual(['lanternfall.route.yaml', 'wick']);
    expect(sessions.map(({ start }) => start)).toEqual(
      ['2026-10-05T19:30', '2026-10-06T19:30', '2026-10-07T23:10'].map(parseMoment),
    );
    expect(sessions[0]!.blocks).toMatchObject([
      { technique: 'crate-vault', minutes: 25, landed: { landed: 61, tries: 104 } },
      {
        technique: 'lamp-clip',
        minutes: 20,
        tape: 'lmmlll',
        landed: undefined,
        path: ['sessions', 0, 'blocks', 1],
      },
    ]);
    expect(sessions[1]!.blocks[0]).toMatchObject({
      segment: 'harbor',
      tried: [
        {
          technique: 'crate-vault',
          use: undefined,
          landed: 3,
          tries: 5,
          path: ['sessions', 1, 'blocks', 0, 'tried', 'crate-vault'],
        },
      ],
    });
  });

  it('leaves out a session on a day that never was', () => {
    const text = practiceText.replace('2026-10-05T', '2026-02-30T');
    expect(buildPracticeDocument(readSource('practice', text)).sessions.map(({ path }) => path)).toEqual([
      ['sessions', 1],
      ['sessions', 2],
    ]);
  });
});

describe('runsOf', () => {
  const [run, evening] = buildRunsDocument(readSource('runs', runsText)).runs;

  it('reads one run', () => {
    expect(run).toMatchObject({
      kind: 'run',
      started: 1,
      finished: 0,
      times: [
        { id: 'harbor', seconds: 91.8, path: ['runs', 0, 'times', 'harbor'] },
        { id: 'rope-yard', seconds: 127 },
      ],
      tried: [
        { technique: 'crate-vault', use: undefined, landed: 1, tries: 1 },
        { technique: 'lamp-clip', use: 'second', landed: 0, tries: 1 },
      ],
      endings: [{ segment: 'fish-market', why: 'miss', by: 'lamp-hop', runs: 1 }],
    });
  });

  it('reads an evening', () => {
    expect(evening).toMatchObject({
      kind: 'evening',
      started: 38,
      finished: 2,
      minutes: 120,
      endings: [
        { segment: 'harbor', why: 'reset', runs: 20 },
        { segment: 'harbor', why: 'death', runs: 5 },
      ],
    });
  });

  it('takes a run that ended nowhere for a finished one', () => {
    const text = 'route: a.route.yaml\nruns:\n  - { start: 2026-10-10T15:00, total: 42:17.3 }\n';
    expect(buildRunsDocument(readSource('runs', text)).runs).toMatchObject([
      { finished: 1, total: 2537.3, endings: [] },
    ]);
  });
});

describe('weekOf', () => {
  it('reads what is written', () => {
    expect(buildWeekDocument(readSource('week', weekText))).toMatchObject({
      target: 2490,
      days: { mon: 100, tue: 100, wed: 75 },
      off: [parseMoment('2026-11-20')],
      pin: [{ id: 'crate-vault', path: ['pin', 0] }],
      states: [{ id: 'lamp-clip', state: 'learning', path: ['states', 'lamp-clip'] }],
      times: [{ id: 'harbor', time: 90, spread: 0.9 }],
      dayStarts: 240,
    });
  });

  it('takes the defaults that the schema states for the rest', () => {
    expect(weekDefaults).toEqual({ block: 25, confidence: 0.8, dayStarts: 240 });
    expect(buildWeekDocument(readSource('week', 'route: a.route.yaml\n'))).toMatchObject({
      ...weekDefaults,
      target: undefined,
      off: [],
      pin: [],
      leaveOut: [],
    });
  });
});

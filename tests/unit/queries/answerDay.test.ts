import { describe, expect, it } from 'vitest';
import { answerDayOf, type DayChoice, latestAnswerDay } from '../../../server/src/queries/answerDay.ts';
import { formatDate, parseMoment } from '../../../server/src/text/calendar.ts';
import type { RunnerFiles } from '../../../server/src/workspace/runnerFiles.ts';
import { runnerFilesOf } from '../../../server/src/workspace/runnerFiles.ts';
import { plainRoute, workspaceOf, type Files } from '../rules/marked.ts';

async function ownOf(files: Files): Promise<RunnerFiles> {
  const workspace = await workspaceOf({ 'a.route.yaml': plainRoute, ...files });
  const own = runnerFilesOf(workspace.groups().projects[0]!);
  if ('runners' in own) throw new Error('One runner only.');
  return own;
}

/** A practice file with a session at each of these times. */
const practised = (...starts: readonly string[]): Files => ({
  'a.practice.yaml': `route: a.route.yaml\nsessions:\n${starts
    .map((start) => `  - { start: ${start}, blocks: [{ technique: crate-vault, minutes: 20 }] }\n`)
    .join('')}`,
});

const choice = (now: string, asked?: string): DayChoice => ({
  now: parseMoment(now)!,
  asked: asked === 'last' || asked === undefined ? asked : parseMoment(asked)!.date,
});

/** The answer's day in words. */
function said(own: RunnerFiles, wish: DayChoice) {
  const { day, reason, lastLogged } = answerDayOf(own, wish);
  return { day: formatDate(day), reason, last: lastLogged === undefined ? null : formatDate(lastLogged) };
}

describe('the day that an answer is for', () => {
  it('is today, which ends at the hour in the week file', async () => {
    const own = await ownOf(practised('2026-10-05T19:30'));
    const last = '2026-10-05';
    const today = (now: string) => said(own, choice(now));
    expect(today('2026-11-28T04:00')).toEqual({ day: '2026-11-28', reason: 'today', last });
    expect(today('2026-11-28T03:59')).toEqual({ day: '2026-11-27', reason: 'today', last });
    const late = await ownOf({ 'a.week.yaml': 'route: a.route.yaml\nday_starts: "06:30"\n' });
    expect(said(late, choice('2026-11-28T06:29')).day).toBe('2026-11-27');
    expect(said(late, choice('2026-11-28T06:30')).day).toBe('2026-11-28');
  });

  it('is the day asked for', async () => {
    const own = await ownOf(practised('2026-10-05T19:30', '2026-10-08T19:30'));
    expect(said(own, choice('2026-11-28T19:00', '2026-10-07'))).toEqual({
      day: '2026-10-07',
      reason: 'asked',
      last: '2026-10-05',
    });
  });

  it('for `last` is the day after the last entry, whenever it is asked', async () => {
    const own = await ownOf(practised('2026-10-05T19:30', '2026-10-09T02:00'));
    // The second session began after midnight and before the day's start, so it belongs to the evening before.
    for (const now of ['2026-10-09T03:00', '2026-11-28T19:00', '2031-01-01T00:00'])
      expect(said(own, choice(now, 'last'))).toEqual({
        day: '2026-10-09',
        reason: 'last',
        last: '2026-10-08',
      });
  });

  it('for `last` does not follow an entry dated after today', async () => {
    const own = await ownOf(practised('2026-10-05T19:30', '2027-10-06T19:30'));
    expect(said(own, choice('2026-11-28T19:00', 'last')).day).toBe('2026-10-06');
  });

  it('for `last` follows the last entry on a machine whose clock is behind all of them', async () => {
    const own = await ownOf(practised('2026-10-05T19:30', '2026-10-07T19:30'));
    expect(said(own, choice('2020-01-01T00:00', 'last')).day).toBe('2026-10-08');
  });

  it('for `last` is today where nothing is logged', async () => {
    expect(said(await ownOf({}), choice('2026-11-28T19:00', 'last'))).toEqual({
      day: '2026-11-28',
      reason: 'today',
      last: null,
    });
  });

  it('for two routes is the later of theirs, and files without logs do not decide it', async () => {
    const none = await ownOf({});
    const early = await ownOf(practised('2026-10-05T19:30'));
    const late = await ownOf(practised('2026-10-07T19:30'));
    const of = (...owns: readonly RunnerFiles[]) =>
      formatDate(latestAnswerDay(owns, choice('2026-11-28T19:00', 'last')).day);
    expect(of(early, late)).toBe('2026-10-08');
    expect(of(late, early)).toBe('2026-10-08');
    expect(of(none, early)).toBe('2026-10-06');
    expect(of(early, none)).toBe('2026-10-06');
    expect(of(none, none)).toBe('2026-11-28');
  });
});

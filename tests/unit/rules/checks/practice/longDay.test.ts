import { describe, expect, it } from 'vitest';
import { practice, practiced } from '../../builders/plainLogs.ts';
import { expectMarked, plainRoute } from '../../marked.ts';

describe('long-day', () => {
  const blocks = (start: string, ...minutes: string[]) =>
    `start: ${start}, blocks: [${minutes.map((m) => `{ technique: crate-vault, minutes: ${m} }`).join(', ')}]`;

  // No more than an hour a day on one movement: common practice, no source.
  it('is found at the block that passes the hour, over all sessions of the day', async () => {
    const [finding] = await expectMarked(
      practiced(
        blocks('2026-10-05T18:00', '30', '20'),
        blocks('2026-10-05T22:00', '⟦20⟧', '20'),
        blocks('2026-10-06T20:00', '30', '30'),
      ),
      'long-day',
    );
    expect(finding?.message).toContain('90 minutes of `crate-vault` on 2026-10-05');
    expect(finding?.message).toMatch(/hands.*rest/);
  });

  it('counts what is practised before the day starts to the day before', async () => {
    await expectMarked(
      practiced(blocks('2026-10-05T23:00', '30', '30'), blocks('2026-10-06T03:30', '⟦10⟧')),
      'long-day',
    );
    const week = { 'a.week.yaml': 'route: a.route.yaml\nday_starts: "02:00"\n' };
    await expectMarked(
      { ...practiced(blocks('2026-10-05T23:00', '30', '30'), blocks('2026-10-06T03:30', '10')), ...week },
      'long-day',
    );
  });

  it('counts runners apart, and files that share a technique together', async () => {
    const file = (runner: string, minutes: string, at = '20:00') =>
      `${runner}${practice(blocks(`2026-10-05T${at}`, minutes))}`;
    const of = (runner: string) => `runner: ${runner}\n`;
    await expectMarked(
      {
        'a.route.yaml': plainRoute,
        '1.practice.yaml': file(of('ann'), '40'),
        '2.practice.yaml': file(of('bob'), '40'),
      },
      'long-day',
      { runner: 'ann' },
    );
    await expectMarked(
      {
        'a.route.yaml': plainRoute,
        '1.practice.yaml': file('', '40', '18:00'),
        '2.practice.yaml': file(of('ann'), '⟦40⟧'),
      },
      'long-day',
    );
    // A route and one that extends it: practice counts for both, and the day is spoken of once.
    await expectMarked(
      {
        'a.route.yaml': plainRoute,
        'b.route.yaml': 'game: L\ncategory: c\nextends: a.route.yaml\n',
        '1.practice.yaml': file('', '40'),
        '2.practice.yaml': file('', '⟦40⟧').replace('a.route', 'b.route'),
      },
      'long-day',
    );
  });
});

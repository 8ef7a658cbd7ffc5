import { describe, expect, it } from 'vitest';
import { poolText } from '../../../../helpers/poolFiles.ts';
import { expectMarked, findingsOf, plainRoute, underlined } from '../../marked.ts';

describe('unknown-route', () => {
  const log = (route: string) => `route: ${route}\nsessions: []\n`;

  it('is found at the line of a log, week or pool whose route is missing or out of reach', async () => {
    const files = {
      'a.route.yaml': plainRoute,
      'a.practice.yaml': log('⟦b.route.yaml⟧'),
      'a.runs.yaml': 'route: ⟦../elsewhere/a.route.yaml⟧\nruns: []\n',
      'a.week.yaml': 'route: ⟦"sub/a.route.yaml"⟧\n',
      'b.pool.yaml': poolText({ route: '⟦none.route.yaml⟧' }),
    };
    const findings = await expectMarked(files, 'unknown-route');
    expect(findings.map(({ message }) => message.slice(0, 40))).toEqual([
      'There is no route `b.route.yaml` here. C',
      'The route `../elsewhere/a.route.yaml` li',
      'There is no route `sub/a.route.yaml` her',
      'There is no route `none.route.yaml` here',
    ]);
    await expectMarked(
      { 'a.route.yaml': plainRoute, 'sub/a.practice.yaml': log('../a.route.yaml') },
      'unknown-route',
    );
  });

  it('leaves it to reading to say that no route is named', async () => {
    const findings = await findingsOf({ 'a.practice.yaml': 'sessions: []\n' });
    expect(findings.map(({ code }) => code)).toEqual(['missing-key']);
    expect(findings[0]?.message).toContain('`route`');
  });

  it('is found where the route that is extended is missing, and what it would define is not asked for', async () => {
    const route = plainRoute
      .replace('segments:', 'extends: ⟦base.route.yaml⟧\nsegments:')
      .replace('[crate-vault]', '[lamp-clip]');
    await expectMarked({ 'a.route.yaml': route }, 'unknown-route');
  });

  it('is found once where routes extend each other in a circle', async () => {
    const extend = (other: string) => `game: Lanternfall\ncategory: any%\nextends: ${other}\n`;
    const files = {
      'a.route.yaml': extend('⟦c.route.yaml⟧'),
      'b.route.yaml': extend('a.route.yaml'),
      'c.route.yaml': extend('b.route.yaml'),
      'd.route.yaml': extend('b.route.yaml'), // leads into the circle, is no part of it
    };
    const [finding] = await expectMarked(files, 'unknown-route');
    expect(finding?.message).toContain('a.route.yaml → c.route.yaml → b.route.yaml → a.route.yaml');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual([
      'c.route.yaml: b.route.yaml',
      'b.route.yaml: a.route.yaml',
    ]);
    await expectMarked({ 'a.route.yaml': extend('⟦a.route.yaml⟧') }, 'unknown-route');
  });
});

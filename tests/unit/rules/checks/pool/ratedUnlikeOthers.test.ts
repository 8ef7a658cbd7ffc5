import { describe, expect, it } from 'vitest';
import { examplePool } from '../../../../../server/src/rules/engine/examplePool.ts';
import { samplePool } from '../../../../helpers/poolFiles.ts';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { expectMarked, findingsOf, plainRoute } from '../../marked.ts';

const pool = (later: number) =>
  `route: a.route.yaml\n${examplePool({ counted: { 'crate-vault': 3 }, later })}`;

describe('rated-unlike-others', () => {
  it('is found at the difficulty, with a fix that writes the one of the pool', async () => {
    const route = plainRoute.replace('difficulty: 3,', 'difficulty: ⟦3⟧,');
    const [finding] = await expectMarked(
      { 'a.route.yaml': route, 'a.pool.yaml': pool(2) },
      'rated-unlike-others',
    );
    expect(finding?.severity).toBe('hint');
    expect(finding?.message).toMatch(
      /^Rated 3, but to 3 runners of the pool it comes like (\d\.\d)\. Write that, or keep your rating: the pool counts either way\.$/,
    );
    const text = finding!.fix!.text;
    expect(Number(text)).toBeGreaterThan(5);
    // Once that is written, the pool says the same of the place on the scale, and nothing is left to find.
    const mended = plainRoute.replace('difficulty: 3,', `difficulty: ${text},`);
    expect(await findingsOf({ 'a.route.yaml': mended, 'a.pool.yaml': pool(2) })).toEqual([]);
  });

  it('is found for techniques that come earlier, too', async () => {
    const route = plainRoute.replace('difficulty: 3,', 'difficulty: ⟦6⟧,');
    const text = pool(-1.5).replace('difficulty: 3', 'difficulty: 6');
    const [finding] = await expectMarked(
      { 'a.route.yaml': route, 'a.pool.yaml': text },
      'rated-unlike-others',
    );
    expect(Number(finding?.fix?.text)).toBeLessThan(4.5);
  });

  it('is not found where the pool is of the same mind, or says nothing', async () => {
    for (const later of [0, 0.25, undefined]) {
      const text =
        later === undefined
          ? `route: a.route.yaml\n${examplePool({ counted: { 'crate-vault': 3 } })}`
          : pool(later);
      expect(await findingsOf({ 'a.route.yaml': plainRoute, 'a.pool.yaml': text })).toEqual([]);
    }
  });
});

/** What the pool of the sample says of a technique's half-way point, and the same of one that comes much later. */
const [, said = ''] = /crate-vault:[^]*?(    midway:\n[^]*?\n)    loss:/.exec(samplePool) ?? [];
const [, later = ''] = /(    midway:\n[^]*)/.exec(pool(2)) ?? [];

/** Twelve runners are surer than the three of the example. */
const surer = later.replace(/-?\d+/g, (number) => String(Number(number) + 140));

describeFixOnSample('rated-unlike-others', [{ file: 'pool', from: said, to: surer }]);

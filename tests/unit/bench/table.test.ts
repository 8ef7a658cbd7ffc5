import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../samples/simulation/random.ts';
import { readSource } from '../../../server/src/files/reading/reading.ts';
import { savedRows, worseRatios } from '../../bench/baseline.ts';
import { mistakesIn, withMistake } from '../../bench/edits.ts';
import { makeRoute } from '../../bench/route.ts';
import { byTurns, median, quantile } from '../../bench/samples.ts';
import { figure, tableOf, type Row } from '../../bench/table.ts';
import { timeOf } from '../../bench/times.ts';
import { withBlock, writeBlock } from '../../helpers/writeBlock.ts';

describe('samples', () => {
  it('interpolates quantiles as R does by default', () => {
    // R's quantile(c(1, 2, 4, 8, 16), c(.05, .5, .95)), type 7: 1.2, 4, 14.4. By the published formula
    // (Hyndman & Fan 1996, definition 7), worked by hand.
    expect(quantile([16, 1, 8, 2, 4], 0.05)).toBeCloseTo(1.2, 12);
    expect(median([16, 1, 8, 2, 4])).toBe(4);
    expect(quantile([16, 1, 8, 2, 4], 0.95)).toBeCloseTo(14.4, 12);
    expect(median([3, 1])).toBe(2);
  });

  it('measures by turns', async () => {
    const order: string[] = [];
    const note = (name: string) => (round: number) => {
      order.push(`${name}${round}`);
      return [round, round];
    };
    const samples = await byTurns(2, { a: note('a'), b: note('b') });
    expect(order).toEqual(['a0', 'b0', 'a1', 'b1']);
    expect(samples).toEqual({ a: [0, 0, 1, 1], b: [0, 0, 1, 1] });
  });
});

describe('the table', () => {
  it('shows median, spread and ratio', () => {
    const table = tableOf([
      { what: 'Edit', unit: 'ms', own: [10, 20, 30], other: { name: 'other', sample: [50, 50, 50] } },
      { what: 'Size', unit: 'kB', own: [1234.4], other: { name: 'other', sample: [617.2] } },
      { what: 'Late', unit: '', own: [0], other: { name: 'other', sample: [2] } },
    ]);
    expect(table.split('\n').slice(2)).toEqual([
      '| Edit | 20.0 ms [11.0–29.0] | other | 50.0 ms [50.0–50.0] | 2.50 × |',
      '| Size | 1,230 kB | other | 617 kB | 0.50 × |',
      '| Late | 0 | other | 2 | – |',
    ]);
    expect(figure([0.123], 'ms')).toBe('0.12 ms');
    expect(figure([0], '')).toBe('0');
    expect(figure([1_411_043], 'ms')).toBe('1,410 s');
  });

  it('goes between the marks and leaves the rest', () => {
    const readme = 'a\n<!-- bench:start -->\nold\n<!-- bench:end -->\nz\n';
    const once = withBlock(readme, 'new', 'bench');
    expect(once).toBe('a\n<!-- bench:start -->\n\nnew\n\n<!-- bench:end -->\nz\n');
    expect(withBlock(once ?? '', 'new', 'bench')).toBe(once);
    expect(withBlock('no marks', 'new', 'bench')).toBeUndefined();
  });

  it('has a page with its marks beside the code, for each command that writes one', () => {
    const pages = { bench: ['bench', 'mistakes'], arena: ['arena'] };
    for (const [folder, names] of Object.entries(pages)) {
      const page = readFileSync(new URL(`../../${folder}/README.md`, import.meta.url), 'utf8');
      for (const name of names) expect(withBlock(page, 'NEW', name), name).toContain('\n\nNEW\n\n');
    }
  });

  it('is not written into a page without its marks', async () => {
    const page = join(import.meta.dirname, '../../../README.md');
    const before = readFileSync(page, 'utf8');
    await expect(writeBlock(page, 'bench', 'new')).rejects.toThrow(/bench:start/);
    expect(readFileSync(page, 'utf8')).toBe(before);
  });
});

describe('the baseline', () => {
  const row = (what: string, own: number, other: number, name = 'other 1.2.3'): Row => ({
    what,
    unit: 'ms',
    own: [own],
    other: { name, sample: [other] },
  });

  it('says what got worse by ratio, worst first, whatever version or number of runs stands in a name', () => {
    const before = savedRows([row('Edit', 10, 50), row('… typing on', 10, 40), row('Start', 10, 20)]);
    const now = savedRows([
      row('Edit', 20, 60, 'other 1.2.4'),
      row('… typing on', 40, 40),
      row('Start', 10.5, 20),
      row('New', 9, 1),
    ]);
    expect(worseRatios(before, now)).toEqual([
      'Edit: … typing on, against other 1.2.3: 4.00 × before, 1.00 × now',
      'Edit, against other 1.2.4: 5.00 × before, 3.00 × now',
    ]);
    expect(worseRatios(before, before)).toEqual([]);
    expect(savedRows([row('Late', 0, 2), row('Late', 0, 0)])).toEqual([]);
  });
});

describe('mistakes', () => {
  const { text } = makeRoute(1, { lines: 1_000 });

  it('are errors on their own line, each of them', () => {
    for (const mistake of mistakesIn(text, 9, createRandom(2))) {
      const broken = withMistake(text, mistake);
      expect(broken).toHaveLength(text.length + 1);
      const lines = readSource('route', broken).problems.map(
        ({ start }) => broken.slice(0, start).split('\n').length - 1,
      );
      expect(lines).toContain(mistake.line);
    }
  });
});

describe('times', () => {
  it.each([
    [92.4, '1:32.4'],
    [59.96, '1:00.0'],
    [5, '0:05.0'],
    [7292.44, '2:01:32.4'],
  ])('writes %d as %s', (seconds, written) => {
    expect(timeOf(seconds)).toBe(written);
  });
});

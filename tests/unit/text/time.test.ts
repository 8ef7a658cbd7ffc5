import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commonSchema } from '../../../server/src/files/schema/schema.ts';
import { formatTime, parseSecondsOrRange, parseTime } from '../../../server/src/text/time.ts';

describe('parseTime', () => {
  it.each([
    ['92.4', 92.4],
    ['1:32.4', 92.4],
    ['41:30', 2490],
    ['90:00', 5400],
    ['1:00:00', 3600],
    ['2:03:04.5', 7384.5],
    [' 0:05 ', 5],
    [0, 0],
    [1000, 1000],
    ['99:59:59.9', 359_999.9],
    ['9999:59', 599_999],
    [999_999, 999_999],
  ])('reads %s as %d seconds', (written, seconds) => {
    expect(parseTime(written)).toBeCloseTo(seconds, 9);
  });

  it.each([
    '',
    ':',
    '1:',
    ':30',
    '1:5',
    '1:60',
    '1:5.0',
    '1:2:03',
    '1:60:00',
    '1:00:00:00',
    '-1',
    '1e3',
    '0x10',
    '1.',
    '.5',
    '1,5',
    'soon',
    -1,
    NaN,
    Infinity,
    1e308,
    1_000_000,
    '1000000',
    '10000:00',
    '100:00:00',
    '9'.repeat(400),
    `${'9'.repeat(400)}:59`,
  ])('does not read %s', (written) => {
    expect(parseTime(written)).toBeUndefined();
  });

  it('reads what the schema calls a time, and nothing else', () => {
    const pattern = new RegExp(commonSchema('time').pattern!);
    fc.assert(
      fc.property(fc.stringMatching(/^[0-9:.]{0,11}$/), (text) => {
        expect(parseTime(text) !== undefined).toBe(pattern.test(text));
      }),
    );
  });
});

describe('formatTime', () => {
  it.each([
    [92.4, 1, '1:32.4'],
    [5, 0, '5'],
    [59.96, 1, '1:00.0'],
    [3599.99, 1, '1:00:00.0'],
    [3661, 0, '1:01:01'],
    [-92.4, 1, '-1:32.4'],
    [-0.04, 1, '0.0'],
    [65.25, 2, '1:05.25'],
  ])('writes %d seconds with %d decimals as %s', (seconds, digits, text) => {
    expect(formatTime(seconds, digits)).toBe(text);
  });

  it('is read back as the time it was, to half of its last digit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 359_999, noNaN: true }),
        fc.integer({ min: 0, max: 3 }),
        (seconds, digits) => {
          const back = parseTime(formatTime(seconds, digits))!;
          expect(Math.abs(back - seconds)).toBeLessThanOrEqual(0.5 / 10 ** digits + 1e-6);
        },
      ),
    );
  });
});

describe('parseLength', () => {
  it('takes a number as it is', () => {
    expect(parseSecondsOrRange(3.2)).toEqual({ mean: 3.2, sd: 0 });
  });

  it('takes a range as the middle 80 % of a normal distribution', () => {
    // 90 % point of the standard normal distribution: 1.2816 (S; any printed table, e.g. NIST e-Handbook 1.3.6.7.1).
    const { mean, sd } = parseSecondsOrRange('9..16')!;
    expect(mean).toBe(12.5);
    expect(mean + 1.2816 * sd).toBeCloseTo(16, 3);
    expect(mean - 1.2816 * sd).toBeCloseTo(9, 3);
  });

  it.each([
    '16..9',
    '9...16',
    '9..',
    '..16',
    '9-16',
    '-1..2',
    '',
    '3.2',
    NaN,
    Infinity,
    1e6,
    `1..${'9'.repeat(400)}`,
  ])('does not read %s', (written) => {
    expect(parseSecondsOrRange(written)).toBeUndefined();
  });
});

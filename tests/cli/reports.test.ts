import { describe, expect, test } from 'vitest';
import {
  decimalsFor,
  formatTwoFigures,
  formatHours,
  formatRange,
  rangeDecimals,
  formatPercent,
  formatList,
} from '../../server/src/text/format.ts';
import { LineIndex } from '../../server/src/text/lineIndex.ts';
import { sanitizeForTerminal } from '../../server/src/safeText/terminal.ts';
import { wrapText } from '../../server/src/text/wrap.ts';

describe('numbers for people', () => {
  test.each([
    [{ low: 0.2, high: 11.4 }, '0 to 11 s'],
    [{ low: 0.2, high: 9.949 }, '0.2 to 9.9 s'],
    [{ low: 0.2, high: 9.951 }, '0 to 10 s'],
    [{ low: 0, high: 9.1 }, '0.0 to 9.1 s'],
    [{ low: 2.93, high: 5.61 }, '2.9 to 5.6 s'],
    [{ low: 0.181, high: 0.504 }, '0.2 to 0.5 s'],
    [{ low: -1.26, high: 2.11 }, '−1.3 to 2.1 s'],
    [{ low: -12.4, high: 2.11 }, '−12 to 2 s'],
    [{ low: -0.04, high: 2.11 }, '0.0 to 2.1 s'],
  ])('a range %j is written %s', (range, text) => {
    expect(formatRange(range, 's')).toBe(text);
  });

  test('ranges of one list have the same decimals: those of the ones that need them', () => {
    const list = [
      { low: 0, high: 10.2 },
      { low: 0, high: 9.1 },
      { low: 0.04, high: 4.8 },
    ];
    const written = list.map((range) => formatRange(range, 's', rangeDecimals(list)));
    expect(written).toEqual(['0.0 to 10.2 s', '0.0 to 9.1 s', '0.0 to 4.8 s']);
    expect(rangeDecimals(list.slice(0, 1))).toBe(0);
    expect(rangeDecimals([])).toBe(1);
  });

  test('no range, however odd, asks for more than three decimals', () => {
    for (const [low, high] of [
      [0, 0],
      [0, 1e-12],
      [0, 1e12],
      [0, Infinity],
      [NaN, 1],
    ] as const) {
      expect(decimalsFor({ low, high })).toBeGreaterThanOrEqual(0);
      expect(decimalsFor({ low, high })).toBeLessThanOrEqual(3);
    }
  });

  test('figures, shares, hours and lists', () => {
    expect([12.34, 4.207, 0.3312, 0.0712, 0, -1.26].map(formatTwoFigures)).toEqual([
      '12',
      '4.2',
      '0.33',
      '0.07',
      '0.0',
      '−1.3',
    ]);
    expect([0, 0.004, 0.05, 0.5, 0.996, 1].map(formatPercent)).toEqual([
      '<1 %',
      '<1 %',
      '5 %',
      '50 %',
      '>99 %',
      '>99 %',
    ]);
    expect([0.4167, 1, 11.25].map(formatHours)).toEqual(['25 min', '1.0 h', '11.3 h']);
    expect([formatList([]), formatList(['a']), formatList(['a', 'b', 'c'])]).toEqual(['', 'a', 'a, b and c']);
  });
});

describe('places', () => {
  test('lines end at \\n, \\r\\n and \\r; characters are UTF-16 units', () => {
    const text = 'a\r\n🏮b\rc\n';
    const index = new LineIndex(text);
    const at = (part: string) => index.positionAt(text.indexOf(part));
    expect(at('a')).toEqual({ line: 0, character: 0 });
    expect(at('b')).toEqual({ line: 1, character: 2 });
    expect(at('c')).toEqual({ line: 2, character: 0 });
    expect(index.positionAt(text.length)).toEqual({ line: 3, character: 0 });
  });

  test('a byte-order mark takes up nothing', () => {
    const index = new LineIndex('\uFEFFab\ncd');
    expect(index.positionAt(0)).toEqual({ line: 0, character: 0 });
    expect(index.positionAt(2)).toEqual({ line: 0, character: 1 });
    expect(index.positionAt(4)).toEqual({ line: 1, character: 0 });
  });
});

describe('text', () => {
  test('is freed of what moves a terminal, not of other scripts', () => {
    expect(sanitizeForTerminal('a\u001b[31mb\u0007\u202ec\u009b2J')).toBe('a [31mb c 2J');
    expect(sanitizeForTerminal('灯篭 é 🏮')).toBe('灯篭 é 🏮');
  });

  test('wraps at spaces, keeps a number with its percent sign, and never loops on a long word', () => {
    expect(wrapText('lands 56 % now', 9)).toEqual(['lands', '56 % now']);
    expect(wrapText('aaaaaaaaaaaa b', 5, '  ')).toEqual(['aaaaaaaaaaaa', '  b']);
  });
});

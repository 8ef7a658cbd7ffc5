import { execFileSync } from 'node:child_process';
import { platform } from 'node:process';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { shellWord } from '../../../server/src/text/shellWord.ts';

describe('a word for a shell', () => {
  test.each([
    ['a/lanternfall.route.yaml', 'a/lanternfall.route.yaml'],
    ['Wächter.route.yaml', 'Wächter.route.yaml'],
    ['my route.yaml', "'my route.yaml'"],
    ["it's", String.raw`'it'\''s'`],
    ['$(touch x)', "'$(touch x)'"],
    ['-rf', "'-rf'"],
    ['', "''"],
  ])('%s', (word, quoted) => {
    expect(shellWord(word, 'linux')).toBe(quoted);
  });

  test('on Windows has double quotes', () => {
    expect(shellWord('my route.yaml', 'win32')).toBe('"my route.yaml"');
  });

  // S: the shell itself (POSIX.1-2017, XCU 2.2, says how it reads quotes).
  test.skipIf(platform === 'win32')('is what the shell reads from it', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(...`ab '"$()\\*?~&|;<>#!-\n`), maxLength: 12 }),
        (word) => {
          const said = execFileSync('/bin/sh', ['-c', `printf '%s.' ${shellWord(word, 'linux')}`], {
            encoding: 'utf8',
          });
          expect(said).toBe(`${word}.`);
        },
      ),
      { numRuns: 60 },
    );
  });
});

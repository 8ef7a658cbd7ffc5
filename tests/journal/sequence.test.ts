import fc from 'fast-check';
import { expect, test } from 'vitest';
import { buildPracticeDocument } from '../../server/src/files/documents/logDocuments.ts';
import { readSource } from '../../server/src/files/reading/reading.ts';
import { Desk } from '../helpers/desk.ts';

const techniques = ['crate-vault', 'wall-kick'] as const;

type Step =
  | { readonly do: 'attempt'; readonly technique: (typeof techniques)[number]; readonly landed: boolean }
  | { readonly do: 'tape'; readonly technique: (typeof techniques)[number]; readonly tape: string }
  | { readonly do: 'undo' | 'end' | 'fold' }
  | { readonly do: 'wait'; readonly seconds: number };

const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({
      do: fc.constant('attempt' as const),
      technique: fc.constantFrom(...techniques),
      landed: fc.boolean(),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('tape' as const),
      technique: fc.constantFrom(...techniques),
      tape: fc.constantFrom('lm', 'l'),
    }),
  },
  {
    weight: 5,
    arbitrary: fc.record({ do: fc.constantFrom('undo' as const, 'end' as const, 'fold' as const) }),
  },
  // Also back, as where a clock is set right.
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('wait' as const),
      seconds: fc.constantFrom(5, 40, 2400, 90_000, -3600),
    }),
  },
);

/** Letters by technique, sorted, so that only what was made counts. */
function lettersIn(text: string): Record<string, string> {
  const reading = readSource('practice', text);
  expect(reading.problems).toEqual([]);
  const letters: Record<string, string> = {};
  for (const { blocks } of buildPracticeDocument(reading).sessions)
    for (const { technique = '', tape = '' } of blocks)
      letters[technique] = (letters[technique] ?? '') + tape;
  return sorted(letters);
}

function sorted(letters: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(letters)
      .map(([technique, all]) => [technique, [...all].sort().join('')] as const)
      .filter(([, all]) => all !== ''),
  );
}

test('whatever is logged, taken back, ended and folded in whatever order: the file has what was left', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 25 }), async (steps) => {
      const desk = new Desk();
      const made: { technique: string; letters: string }[] = [];
      for (const one of steps) {
        desk.clock.pass(5);
        if (one.do === 'attempt') {
          await desk.log(one.technique, one.landed ? '--landed' : '--missed');
          made.push({ technique: one.technique, letters: one.landed ? 'l' : 'm' });
        } else if (one.do === 'tape') {
          await desk.log(one.technique, '--tape', one.tape);
          made.push({ technique: one.technique, letters: one.tape });
        } else if (one.do === 'undo') {
          const { code } = await desk.log('--undo');
          expect(code).toBe(made.pop() ? 0 : 2);
        } else if (one.do === 'wait') desk.clock.pass(one.seconds);
        else await desk.log(...(one.do === 'end' ? ['--end'] : []));
      }
      await desk.log('--end');
      await desk.log();
      const expected: Record<string, string> = {};
      for (const { technique, letters } of made) expected[technique] = (expected[technique] ?? '') + letters;
      expect(lettersIn(desk.text())).toEqual(sorted(expected));
    }),
    { seed: 5, numRuns: 60 },
  );
});

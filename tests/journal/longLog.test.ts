import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readSource } from '../../server/src/files/reading/reading.ts';
import type { SealLine } from '../../server/src/journal/journalLines.ts';
import { logExcerpt } from '../../server/src/journal/logExcerpt.ts';
import { planFlush } from '../../server/src/journal/planFlush.ts';
import { planText } from '../../server/src/journal/planText.ts';
import { formatDate } from '../../server/src/text/calendar.ts';

const kinds = ['practice', 'runs'] as const;
type Kind = (typeof kinds)[number];

const firstDay = 17_000;
const dayStarts = 240;

/** A log with an entry every second day, as this tool writes it. */
function logOf(kind: Kind, count: number): string[] {
  const days = Array.from({ length: count }, (_, i) => formatDate(firstDay + 2 * i));
  const items =
    kind === 'practice'
      ? days.flatMap((day, i) => [
          `  - start: ${day}T19:30`,
          ...(i % 5 === 0 ? ['    notes: warm hands, calm'.replace(',', '')] : []),
          '    blocks:',
          `      - { id: b-${i}, technique: crate-vault, minutes: 20, landed: [3, 9] }`,
          `      - { id: c-${i}, technique: wall-kick, minutes: 0.5, tape: lmml, notes: "so, so" }`,
        ])
      : days.map(
          (day, i) =>
            `  - { id: b-${i}, start: ${day}T21:00, times: { harbor: 1:32.4, fog: 2:01 }, tried: { a: [1, 2] }, total: 41:02 }`,
        );
  return ['route: a.route.yaml', kind === 'practice' ? 'sessions:' : 'runs:', ...items];
}

const dayOf = (back: number): string => formatDate(firstDay + 2 * 229 - back);

function sealOf(kind: Kind, block: string, local: string, more: Partial<SealLine> = {}): SealLine {
  const entry =
    kind === 'practice'
      ? { technique: 'crate-vault', minutes: 3, tape: 'lm' }
      : { start: local, total: '40:59' };
  return { kind: 'seal', id: `s-${block}`, at: 0, block, local, entry, attempts: [], undone: [], ...more };
}

const bySeal = {
  /** Hours that the entry was made before the last one of the log. */
  hours: fc.oneof(
    { weight: 3, arbitrary: fc.integer({ min: -3, max: 200 }) },
    fc.integer({ min: 0, max: 11_000 }),
  ),
  /** An entry of the log that it stands for, by its number; none: it is new. */
  known: fc.option(fc.oneof(fc.integer({ min: 220, max: 229 }), fc.integer({ min: 0, max: 229 })), {
    freq: 4,
  }),
  what: fc.constantFrom('new', 'gone', 'shorter', 'taken out'),
};
/** What somebody did to a line. */
const damage = fc.record({
  at: fc.oneof(fc.integer({ min: 0, max: 900 }), fc.integer({ min: 0, max: 5 })),
  put: fc.constantFrom(
    '',
    '# mine',
    '    notes: |',
    '"',
    ' "so',
    "  '",
    '- {',
    '  - start: 2027-01-01',
    'x-own: |',
    '\t',
    '---',
    '  -',
    'a: [',
    '      text: more',
  ),
  how: fc.constantFrom('before', 'in place of', 'behind'),
});

describe.each(kinds)('a long %s log', (kind) => {
  test('is written to as one that is read whole', () => {
    let excerpts = 0;
    let refused = 0;
    fc.assert(
      fc.property(
        fc.array(fc.record(bySeal), { minLength: 1, maxLength: 3 }),
        fc.array(damage, { maxLength: 2 }),
        (made, damages) => {
          const lines = logOf(kind, 230);
          for (const { at, put, how } of damages) {
            const i = at % lines.length;
            lines[i] = how === 'before' ? `${put}\n${lines[i]!}` : how === 'behind' ? lines[i]! + put : put;
          }
          const text = `${lines.join('\n')}\n`;
          const seals = made.map(({ hours, known, what }, i) => {
            const minutes = (firstDay + 2 * 229) * 1440 + 1_300 - 60 * hours;
            const local = new Date(minutes * 60_000).toISOString().slice(0, 16);
            const more =
              what === 'gone'
                ? { gone: true as const, from: [''] }
                : what === 'shorter'
                  ? { from: ['lmml'] }
                  : what === 'taken out'
                    ? { known: true as const }
                    : {};
            return sealOf(
              kind,
              known === null ? `n-${i}` : `b-${known}`,
              local,
              known === null && what !== 'gone' ? {} : more,
            );
          });
          const whole = planFlush(readSource(kind, text), seals, dayStarts);
          if (logExcerpt(kind, text, seals)) excerpts += 1;
          if ('problem' in whole) refused += 1;
          expect(planText(kind, text, seals, dayStarts)).toEqual(whole);
        },
      ),
      { seed: 7, numRuns: 40 },
    );
    // Otherwise nothing was compared.
    expect(excerpts).toBeGreaterThan(8);
    expect(refused).toBeGreaterThan(1);
  });

  test('is read at its end only, where an entry goes to its end', () => {
    const lines = logOf(kind, 4_000);
    const [seal] = [sealOf(kind, 'n-1', `${formatDate(firstDay + 8_000)}T19:30`)];
    const excerpt = logExcerpt(kind, `${lines.join('\n')}\n`, [seal]);
    expect(excerpt!.reading.text.length).toBeLessThan(15_000);
  });

  test.each([
    ['belongs to an older day', (kind: Kind) => sealOf(kind, 'n-1', `${dayOf(300)}T19:30`)],
    ['stands among the older ones', (kind: Kind) => sealOf(kind, 'b-17', `${dayOf(0)}T19:40`)],
  ])('is read whole where an entry %s', (_, make) => {
    expect(logExcerpt(kind, `${logOf(kind, 230).join('\n')}\n`, [make(kind)])).toBeUndefined();
  });
});

import { createRandom } from '../../samples/simulation/random.ts';
import { makeRoute } from './route.ts';
import { tenth } from './times.ts';

/** Lines of the rest of the route, around the large segment. */
const linesAround = 1_000;

/**
 * A route whose first segment alone has that many lines: hundreds of uses, each with its own notes and numbers. The
 * rest is as in any generated route. The same seed and length give the same text.
 *
 * @param lines of the large segment
 */
export function makeLargeSegment(seed: number, lines: number): string {
  const { text, techniques } = makeRoute(seed, { lines: linesAround });
  const random = createRandom(seed + 1);
  const entry = ['  - id: long-way-down', '    name: Long way down', '    time: 48:12.5', '    spread: 6.5'];
  entry.push('    techniques:');
  for (let use = 1; entry.length < lines; use += 1) {
    const technique = techniques[random.whole(0, techniques.length - 1)]!;
    const more = [
      `      - use: ${technique.id}`,
      `        id: ledge-${use}`,
      `        saves: ${tenth(random.between(0.2, 0.9))}`,
      `        loses: ${tenth(random.between(0.1, 0.5))}`,
      '        notes: |',
      `          Ledge ${use}: wait for the lamp, then go at its third swing.`,
      '          Two steps from the wall, never one.',
    ];
    const left = lines - entry.length;
    // The lines that remain are too few for a further use.
    entry.push(
      ...(left >= more.length ? more : Array.from({ length: left }, (_, i) => `      # Rest ${i + 1}.`)),
    );
  }
  return text.replace('\nsegments:\n', `\nsegments:\n${entry.join('\n')}\n`);
}

import { midwayPlaces } from '../../model/pool/commonParts.ts';
import { poolVersion } from '../../model/pool/poolVersion.ts';

/** What an example's pool says where it says something else than most. */
export interface ExamplePool {
  readonly model?: number;
  /** As it is written in the list. */
  readonly runners?: readonly string[];
  /** How many runners practised each technique, by id. */
  readonly counted?: Readonly<Record<string, number>>;
  /** How much later than rated the techniques come, in ln(1 + E/unit); left out, the numbers say nothing. */
  readonly later?: number;
  /** How many times as much as so many runners can say the pool says; left out, less than that. */
  readonly overstated?: number;
}

const threeRunners = ['"3f9a1c0b7d2e"', '"81c2e60f4a95"', '"c70d13b8e246"'];

/** What several runners say together of a place that is so far from where they found a half-way point, in tenths of a logarithm. */
const bell = (off: number): number => Math.max(-240, Math.round(60 - 30 * off * off));

/** The text of a pool for an example, without the line that names the route. */
export function examplePool({
  model = poolVersion,
  runners = threeRunners,
  counted = {},
  later,
  overstated = 1,
}: ExamplePool = {}): string {
  const numbers = `[${midwayPlaces.map((place) => (later === undefined ? 0 : overstated * bell(place - later))).join(', ')}]`;
  const techniques = Object.entries(counted).map(
    ([id, count]) => `  ${id}:
    runners: ${count}
    difficulty: 3
    midway:
      quarter: ${numbers}
      half: ${numbers}
      three_quarters: ${numbers}
      nearly_all: ${numbers}
`,
  );
  return `model: ${model}
day: 2026-10-05
runners: [${runners.join(', ')}]
techniques:${techniques.length === 0 ? ' {}' : ''}
${techniques.join('')}`;
}

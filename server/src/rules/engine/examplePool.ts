import { poolVersion } from '../../model/pool/poolVersion.ts';

/** What an example's pool says where it says something else than most. */
export interface ExamplePool {
  readonly model?: number;
  /** As it is written in the list. */
  readonly runners?: readonly string[];
  /** How many runners practised each technique, by id. */
  readonly counted?: Readonly<Record<string, number>>;
}

const threeRunners = ['"3f9a1c0b7d2e"', '"81c2e60f4a95"', '"c70d13b8e246"'];

/** The text of a pool for an example, without the line that names the route. Its numbers say nothing. */
export function examplePool({
  model = poolVersion,
  runners = threeRunners,
  counted = {},
}: ExamplePool = {}): string {
  const zeros = `[${Array<number>(25).fill(0).join(', ')}]`;
  const techniques = Object.entries(counted).map(
    ([id, count]) => `  ${id}:
    runners: ${count}
    difficulty: 3
    midway:
      quarter: ${zeros}
      half: ${zeros}
      three_quarters: ${zeros}
      nearly_all: ${zeros}
`,
  );
  return `model: ${model}
day: 2026-10-05
runners: [${runners.join(', ')}]
techniques:${techniques.length === 0 ? ' {}' : ''}
${techniques.join('')}`;
}

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { FileKind } from '../../server/src/files/fileKind.ts';

/** What a pool says of one technique. */
export interface PooledCount {
  readonly runners: number;
  readonly difficulty: number;
  /** Place of the half-way point that explains most, 0 to 24; left out: the middle, which is what the rating says. */
  readonly likeliest?: number;
  /** Whether only what has to be there is written. */
  readonly brief?: boolean;
}

export interface PoolParts {
  readonly route?: string;
  readonly model?: number;
  readonly day?: string;
  readonly runners?: readonly string[];
  readonly techniques?: Readonly<Record<string, PooledCount>>;
}

/** Digests of so many runners. Each has a letter, as one without would be a number where the quotes are lost. */
export function digests(count: number): string[] {
  return Array.from({ length: count }, (_, at) => `a${at.toString(16).padStart(11, '0')}`);
}

/** The text of a pool file, as it is written by the tool. */
export function poolText({
  route = 'lanternfall.route.yaml',
  model = 1,
  day = '2026-11-01',
  runners = digests(12),
  techniques = {},
}: PoolParts = {}): string {
  const list = runners.map((one) => `"${one}"`).join(', ');
  return `# What ${runners.length} runners' practice says about this route's techniques.
route: ${route}
model: ${model}
day: ${day}
runners: [${list}]
techniques:${Object.keys(techniques).length === 0 ? ' {}' : ''}
${Object.entries(techniques)
  .map(([id, count]) => techniqueText(id, count))
  .join('')}`;
}

function techniqueText(
  id: string,
  { runners, difficulty, likeliest = 12, brief = false }: PooledCount,
): string {
  const further = brief
    ? ''
    : `    loss: ${numbersText(13, 5, true)}
    suddenness: ${numbersText(6, 2, true)}
    ceiling: ${numbersText(4, 3, true)}
    floor: ${numbersText(4, 0, true)}
`;
  return `  ${id}:
    runners: ${runners}
    difficulty: ${difficulty}
    midway:
${numbersText(25, likeliest, false)}
${further}`;
}

const shares = ['quarter', 'half', 'three_quarters', 'nearly_all'] as const;

/** Numbers, as three runners can say them, that fall off to both sides of the likeliest place, the more so the more runners have in common. */
function numbersText(length: number, likeliest: number, flow: boolean): string {
  const lines = shares.map((share, more) => {
    const numbers = Array.from(
      { length },
      (_, at) => Math.max(-240, -(more + 1) * (at - likeliest) ** 2) || 0,
    );
    return `${share}: [${numbers.join(', ')}]`;
  });
  return flow ? `{ ${lines.join(', ')} }` : lines.map((line) => `      ${line}`).join('\n');
}

/** A pool of three techniques of the sample route. */
export const samplePool = poolText({
  techniques: {
    'crate-vault': { runners: 12, difficulty: 4 },
    'lamp-hop': { runners: 7, difficulty: 3, likeliest: 15 },
    'rope-swing': { runners: 3, difficulty: 5.5, likeliest: 9, brief: true },
  },
});

const samples = join(import.meta.dirname, '../../samples');

/**
 * The sample's file of a kind. No pool is among the samples, as it would change what is estimated there.
 *
 * @param folder that of the samples
 */
export function sampleText(kind: FileKind, folder = samples): string {
  return kind === 'pool' ? samplePool : readFileSync(join(folder, `lanternfall.${kind}.yaml`), 'utf8');
}

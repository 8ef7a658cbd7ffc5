import { keyToYaml, scalarToYaml } from '../../files/edit/flowYaml.ts';
import { pooledProperties } from '../../model/pool/addUp.ts';
import { poolVersion } from '../../model/pool/poolVersion.ts';
import type { PooledNumbers } from '../../model/pool/pooledTechnique.ts';
import { formatDate } from '../../text/calendar.ts';
import { formatCount, formatNumber } from '../../text/format.ts';
import type { PoolRow } from './poolReport.ts';

/** All that a pool file holds. There is no place in it for a name, a day of practice or a count of one runner. */
export interface PoolFileContent {
  /** The route, relative to the file. */
  readonly route: string;
  /** Day number on which it is made. */
  readonly day: number;
  /** Digests, in any order. */
  readonly runners: readonly string[];
  /** In the order of the route. */
  readonly rows: readonly PoolRow[];
}

/** The text of a pool file: the same content gives the same bytes. */
export function poolFileText({ route, day, runners, rows }: PoolFileContent): string {
  const digests = [...runners].sort().map((digest) => JSON.stringify(digest));
  return `# What the practice of ${formatCount(runners.length, 'runner')} says together about this route's techniques, without their logs.
# Made by \`routewright pool\`: make it again rather than edit it.
route: ${scalarToYaml(route)}
model: ${poolVersion} # version of the curves that the numbers belong to
day: ${formatDate(day)}
runners: [${digests.join(', ')}]
techniques:${rows.length === 0 ? ' {}' : ''}
${rows.map(techniqueText).join('')}`;
}

function techniqueText({ technique, rated, comesLike, pooled }: PoolRow): string {
  const told = pooledProperties.flatMap((property) => {
    const numbers = pooled[property];
    return numbers === undefined ? [] : [`    ${property}:\n${numbersText(numbers)}`];
  });
  return `  ${keyToYaml(technique)}: # rated ${rated}, comes like ${formatNumber(comesLike, 1)}
    runners: ${pooled.runners}
    difficulty: ${pooled.difficulty}
${told.join('')}`;
}

function numbersText({ quarter, half, threeQuarters, nearlyAll }: PooledNumbers): string {
  const lists = { quarter, half, three_quarters: threeQuarters, nearly_all: nearlyAll };
  return Object.entries(lists)
    .map(([share, numbers]) => `      ${share}: [${numbers.join(', ')}]\n`)
    .join('');
}

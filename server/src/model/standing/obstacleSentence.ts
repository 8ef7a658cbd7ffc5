/** Why a technique is not practised, in a sentence: the ranking and the words for standings say the same. */
import type { Obstacle } from '../core/standing.ts';

/** What is said of a technique that the week file leaves out. */
export const leftOutSentence = 'The week file leaves it out.';

/** @param nameOf how a technique is named in the sentence, from its id */
export function obstacleSentence(obstacle: Obstacle, nameOf: (id: string) => string): string {
  switch (obstacle.kind) {
    case 'loop':
      return `Its needs form a loop: ${obstacle.loop.map(nameOf).join(' → ')}.`;
    case 'unknown':
      return `It needs ${nameOf(obstacle.need)}, which the route does not have.`;
    case 'left out':
      return `It needs ${nameOf(obstacle.need)}, which is left out.`;
    case 'not ready':
      return `It needs ${nameOf(obstacle.need)}, which does not land often enough yet.`;
  }
}

import type { StarterParams, StarterResult } from '../../protocol/messages/starter.ts';
import { starterFiles } from '../../workspace/starterFiles.ts';

/** The texts of a small first route of a game, with its logs and week. */
export function starterHandler(): (params: StarterParams) => StarterResult {
  return ({ game }) => ({ files: starterFiles(game, 'any%') });
}

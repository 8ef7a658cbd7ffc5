import type { StarterParams, StarterResult } from '../../protocol/messages/starter.ts';
import { faultSentence, readPastedTable } from '../../routeTables/pastedTable.ts';
import { writtenRoute } from '../../routeTables/routeText.ts';
import { starterFiles } from '../../workspace/starterFiles.ts';

const category = 'any%';

/**
 * The texts of a first route of a game, with its logs and week: a small one to be overwritten, or the entries of a table.
 *
 * @throws where the table cannot be read, with the first place
 */
export function starterHandler(): (params: StarterParams) => StarterResult {
  return ({ game, table }) => {
    if (!table) return { files: starterFiles(game, category) };
    const parts = readPastedTable(table.text, table.ignored);
    if ('faults' in parts) throw new Error(faultSentence(parts.faults[0]!));
    return { files: starterFiles(game, category, writtenRoute(game, category, parts)) };
  };
}

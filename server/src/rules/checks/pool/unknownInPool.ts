import type { TechniqueInPool } from '../../../files/documents/documents.ts';
import { formatCount } from '../../../text/format.ts';
import type { PoolFile } from '../../../workspace/project.ts';
import { examplePool } from '../../engine/examplePool.ts';
import type { Rule, RuleReport } from '../../engine/rule.ts';
import { declaredNames } from '../../lookup/declaredNames.ts';
import { NameSuggester, replacementFix } from '../../lookup/nameSuggester.ts';
import { poolToCheck } from '../../lookup/poolToCheck.ts';
import { listIds } from '../../lookup/words.ts';

/** So many are reported one by one; of more, the pool is most likely that of another route. */
const maxSeparate = 5;

/** Techniques of a pool that the route does not have, under no former id either. */
export const unknownInPool: Rule = {
  code: 'unknown-in-pool',
  severity: 'warning',
  title: 'A technique of a pool that the route does not have.',
  page: {
    why: "What other runners' practice says of a technique helps nobody where the route calls the technique otherwise, or has it no more.",
    way: 'Where a technique was renamed, write `was: [former-id]` on it: the pool is right as it is then. Otherwise correct the id, or make the pool again from logs of this route.',
    failing: { pool: examplePool({ counted: { 'crate-valt': 3 } }) },
    passing: { pool: examplePool({ counted: { 'crate-vault': 3 } }) },
  },
  check(context) {
    const pool = poolToCheck(context);
    if (!pool) return [];
    const { techniques, renamed, allRoutesFound, isComplete } = declaredNames(context);
    if (!allRoutesFound) return [];
    const unknown = pool.document.techniques.filter(({ id }) => !techniques.has(id) && !renamed.has(id));
    if (unknown.length > maxSeparate) return isComplete ? [manyUnknown(pool, unknown)] : [];
    const suggester = new NameSuggester(techniques);
    return unknown.flatMap((one) => {
      const meant = suggester.suggest(one.id);
      // It may be defined in text that could not be read.
      return isComplete || meant !== undefined ? [oneUnknown(pool, one, meant)] : [];
    });
  },
};

function oneUnknown(
  { uri, reading }: PoolFile,
  { id, path, runners }: TechniqueInPool,
  meant: string | undefined,
): RuleReport {
  const place = { uri, path, part: 'key' } as const;
  const lost = `The route has no technique \`${id}\`, so what the practice of ${formatCount(runners, 'runner')} says of it is not used.`;
  if (meant === undefined)
    return { ...place, message: `${lost} If it was renamed, write \`was: [${id}]\` on it in the route.` };
  const { fix } = replacementFix(place, meant, reading.tree);
  const message = `${lost} Did you mean \`${meant}\`? If that is its new id, write \`was: [${id}]\` on it in the route.`;
  return { ...place, message, ...(fix && { fix: { ...fix, onRequest: true } }) };
}

function manyUnknown({ uri, document }: PoolFile, unknown: readonly TechniqueInPool[]): RuleReport {
  const ids = listIds(
    unknown.map(({ id }) => id),
    3,
  );
  const message = `The route does not have ${unknown.length} of the pool's ${formatCount(document.techniques.length, 'technique')}: ${ids}. Nothing that it says of them is used. Is it the pool of another route?`;
  return { uri, path: ['route'], part: 'value', message };
}

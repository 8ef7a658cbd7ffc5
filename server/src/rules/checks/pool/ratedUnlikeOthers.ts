import { MemoCache } from '../../../incremental/memoCache.ts';
import { defaultConstants } from '../../../model/core/constants.ts';
import { comesLike } from '../../../model/pool/othersSummary.ts';
import { othersWords } from '../../../model/pool/othersWord.ts';
import { ratedInPool } from '../../../queries/poolInUse.ts';
import { formatCount, formatTenths } from '../../../text/format.ts';
import { examplePool } from '../../engine/examplePool.ts';
import type { Rule, RuleReport } from '../../engine/rule.ts';
import { poolToCheck } from '../../lookup/poolToCheck.ts';

/** A rating that is off by fewer steps is as good as any. */
const leastSteps = 1;
/** Standard deviations that the mean must be off: it is then nine times in ten on that side. */
const sure = 1.2816;

/** Techniques that come to the runners of the pool much earlier or later than their difficulty says. */
export const ratedUnlikeOthers: Rule = {
  code: 'rated-unlike-others',
  severity: 'hint',
  title: 'A difficulty that is not what the runners of the pool found.',
  needsWholeRoute: true,
  page: {
    why: 'The difficulty decides what is expected of a technique that a runner has not practised. The pool corrects it for those who have the pool; whoever gets the route alone starts from the difficulty.',
    way: 'Change the difficulty to the one that the pool suggests, or keep yours: it is a guess, and the pool is used either way.',
    failing: { pool: examplePool({ counted: { 'crate-vault': 3 }, later: 2 }) },
    passing: { pool: examplePool({ counted: { 'crate-vault': 3 }, later: 0.25 }) },
  },
  check(context) {
    const { project, memory = new MemoCache() } = context;
    const pool = poolToCheck(context);
    if (!pool) return [];
    const told = ratedInPool(project, pool);
    // Sums over the whole pool: an edit of anything else leaves them as they are.
    const on = [pool.document, JSON.stringify(told.map(({ id, difficulty }) => [id, difficulty]))];
    const words = memory.getOrCompute('words of others', on, () => othersWords(told, defaultConstants));
    return told.flatMap(({ id, difficulty }, i): RuleReport[] => {
      const others = words[i]!;
      const technique = project.techniques.get(id)!;
      const like = comesLike({ difficulty, others }, defaultConstants);
      const certain = Math.abs(others.midway.mean) >= sure * others.commonSd;
      if (!certain || Math.abs(like - difficulty) < leastSteps || technique.uri !== project.route.uri)
        return [];
      const text = formatTenths(like);
      const place = { uri: technique.uri, path: [...technique.path, 'difficulty'], part: 'value' as const };
      const message = `Rated ${formatTenths(difficulty)}, but to ${formatCount(others.runners, 'runner')} of the pool it comes like ${text}. Write that, or keep your rating: the pool counts either way.`;
      return [{ ...place, message, fix: { ...place, title: `Change to ${text}`, text, onRequest: true } }];
    });
  },
};

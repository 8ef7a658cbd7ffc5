import type { Effect, Segment, Technique, Use } from '../../../files/documents/documents.ts';
import { effectOf, missesOf } from '../../../queries/routeModel.ts';
import { routeIndexOf } from '../../lookup/routeIndex.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';
import { RemovalFixer } from '../../lookup/removalFixer.ts';

/** A retry or a backup behind a miss that ends the run. */
export const unreachableRetry: Rule = {
  code: 'unreachable-retry',
  severity: 'warning',
  title: 'A retry or backup after a miss that ends the run.',
  page: {
    why: 'After a miss that ends the run nothing is tried any more. Either some misses do not end the run, or there is no second chance.',
    way: 'Write under `miss` how many of the misses end the run, or take the retry or backup out.',
    failing: {
      route: `segments:
  - { id: tide-stairs, time: 1:18.6, techniques: [{ use: tide-skip, backup: wall-kick }, wall-kick] }
techniques:
  tide-skip: { difficulty: 8, saves: 18, ends_run: true }
  wall-kick: { difficulty: 4, saves: 2.4, loses: 1.2 }
`,
    },
    passing: {
      route: `segments:
  - { id: tide-stairs, time: 1:18.6, techniques: [{ use: tide-skip, backup: wall-kick }, wall-kick] }
techniques:
  tide-skip:
    difficulty: 8
    saves: 18
    miss: [{ chance: 0.8, ends_run: true }, { chance: 0.2, loses: 6 }]
  wall-kick: { difficulty: 4, saves: 2.4, loses: 1.2 }
`,
    },
  },
  check(context) {
    const { project } = context;
    const { uri, document, reading } = project.route;
    const remover = new RemovalFixer(reading);
    const { entries } = routeIndexOf(context);
    const ending = entries.collect(project.techniques.list, thatMayEndRuns);
    const endingIds = entries.getOrCompute(
      'may end runs',
      [ending],
      () => new Set(ending.map(({ id }) => id)),
    );
    return entries
      .collect(document.segments, withSecondChance)
      .filter((use) => mayEndRuns(use) || endingIds.has(use.technique))
      .flatMap((use) => {
        const technique = project.techniques.get(use.technique);
        if (!technique) return [];
        if (missesOf(effectOf(use, technique)).some(({ chance, endsRun }) => chance > 0 && !endsRun))
          return [];
        const keys = [
          ...(use.retry === undefined ? [] : ['retry']),
          ...(use.backup === undefined ? [] : ['backup']),
        ];
        return keys.map((key): RuleReport => {
          const place: SourceRef = { uri, path: [...use.path, key], part: 'key' };
          const message = `Every miss of \`${use.technique}\` here ends the run, so that \`${key}\` is never used. Write under \`miss\` which share of the misses ends it, or take \`${key}\` out.`;
          // Without its retry a number of tries would mean nothing: then both are for a person to decide.
          if (key === 'retry' && use.maxTries !== undefined) return { ...place, message };
          return { ...place, message, ...remover.removalFix(place, place.path, `Take \`${key}\` out`, true) };
        });
      });
  },
};

function mayEndRuns({ endsRun, miss }: Effect): boolean {
  return endsRun === true || miss !== undefined;
}

const thatMayEndRuns = (technique: Technique): Technique[] => (mayEndRuns(technique) ? [technique] : []);

function withSecondChance({ uses }: Segment): Use[] {
  return uses.filter(({ retry, backup }) => retry !== undefined || backup !== undefined);
}

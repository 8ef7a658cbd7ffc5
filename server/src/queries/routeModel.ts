import { useName } from '../files/schema/ids.ts';
import type { Effect, TechniqueState, Use } from '../files/documents/documents.ts';
import { defaultNumber } from '../files/schema/defaults.ts';
import type { Miss, RouteModel, SegmentModel, TechniqueModel, UseModel } from '../model/core/types.ts';
import type { Project, WeekFile } from '../workspace/project.ts';

const defaultTries = defaultNumber('route', ['segments', 0, 'techniques', 0, 'max_tries']);

/**
 * A project's route in the model's form. The effect of each use is computed from the fields of the use and of its
 * technique. Uses of undefined techniques are left out; a finding reports them.
 *
 * @param states each technique's state for the runner today
 * @param written techniques whose state is the runner's own word
 */
export function buildRouteModel(
  project: Project,
  week: WeekFile | undefined,
  states: ReadonlyMap<string, TechniqueState>,
  written: ReadonlySet<string> = new Set(),
): RouteModel {
  const ownTimes = new Map(week?.document.times.map((own) => [own.id, own]));
  const segments = project.segments.map((segment): SegmentModel => {
    const own = ownTimes.get(segment.id);
    return {
      id: segment.id,
      time: own?.time ?? segment.time,
      spread: own?.spread ?? segment.spread,
      survive: segment.survive,
      luck: segment.luck,
      uses: segment.uses.flatMap((use) => buildUseModel(project, use) ?? []),
    };
  });
  const techniques = [...project.techniques.values()].map((technique): TechniqueModel => ({
    id: technique.id,
    difficulty: technique.difficulty,
    needs: technique.needs.map(({ id }) => id),
    attemptSeconds: technique.practice.attempt,
    reloadSeconds: technique.practice.reload,
    state: states.get(technique.id) ?? 'unlearned',
    ...(written.has(technique.id) && { stateWritten: true }),
  }));
  return { segments, techniques, restart: project.route.document.restart };
}

function buildUseModel(project: Project, use: Use): UseModel | undefined {
  const technique = project.techniques.get(use.technique);
  if (!technique) return undefined;
  const effect = effectOf(use, technique);
  return {
    id: useName(use.technique, use.id),
    technique: use.technique,
    saves: effect.saves ?? { mean: 0, sd: 0 },
    misses: missesOf(effect),
    retrySeconds: use.retry ?? 0,
    maxTries: use.retry === undefined ? 1 : (use.maxTries ?? defaultTries),
    costs: use.costs,
    ...(use.spot !== undefined && { spot: use.spot }),
    ...(use.backup !== undefined && { backup: use.backup }),
    ...(use.take !== undefined && { take: use.take }),
    ...(use.with !== undefined && { with: use.with }),
  };
}

/** The effect of a use. Where the use has any field about misses, the technique's fields about misses do not count. */
export function effectOf(use: Use, technique: Effect): Effect {
  const own = use.loses !== undefined || use.endsRun !== undefined || use.miss !== undefined;
  const { saves } = technique;
  return { ...(saves && { saves }), ...(own ? {} : technique), ...definedEffect(use) };
}

function definedEffect({ saves, loses, endsRun, miss }: Effect): Effect {
  return {
    ...(saves && { saves }),
    ...(loses && { loses }),
    ...(endsRun !== undefined && { endsRun }),
    ...(miss && { miss }),
  };
}

/** The ways to miss a use; their chances are scaled to add up to 1. */
export function missesOf(effect: Effect): Miss[] {
  const ways = effect.miss ?? [
    { chance: 1, loses: effect.endsRun ? 0 : (effect.loses?.mean ?? 0), endsRun: effect.endsRun ?? false },
  ];
  const total = ways.reduce((sum, { chance }) => sum + chance, 0);
  return ways.map((way) => ({ ...way, chance: total > 0 ? way.chance / total : 1 / ways.length }));
}

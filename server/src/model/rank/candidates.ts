/** Which techniques can be ranked, and why the others cannot. */
import type { Steps } from '../../incremental/steps.ts';
import { blocksToReady, forecastLevels } from '../skill/forecast.ts';
import type { PracticeLevels } from '../skill/forecast.ts';
import type { Standing } from '../core/standing.ts';
import { isReady, isReadyFor } from '../standing/needs.ts';
import { leftOutSentence, obstacleSentence } from '../standing/obstacleSentence.ts';
import type { PreparedModel, RankInput, FittedTechnique } from '../run/preparedModel.ts';
import { bestItemProvidersInSteps } from './itemProviders.ts';
import type { TechniqueValuer } from '../run/techniqueValuer.ts';
import type { TechniqueWorth } from '../run/techniqueWorth.ts';

/** A technique that takes part in the ranking. */
export interface Candidate {
  readonly id: string;
  readonly subject: FittedTechnique;
  readonly levels: PracticeLevels;
  readonly worth: TechniqueWorth;
  /**
   * Techniques that must be practised first: needs that are not ready yet, and the technique that picks up a
   * missing item.
   */
  readonly openNeeds: readonly string[];
  /** Fewest blocks until it is ready for the techniques that need it; null beyond the horizon. */
  readonly readyAt: number | null;
}

export interface SkippedTechnique {
  readonly technique: string;
  readonly reason: string;
}

/** An id of a technique in a sentence: in backquotes, so that a report can put the name in its place. */
function quoted(id: string): string {
  return `\`${id}\``;
}

/** Why a technique is not ranked by where it stands: it is left out, or its needs cannot be met. Undefined if neither. */
function reasonFromStanding({ cause }: Standing): string | undefined {
  if (cause.why === 'left out') return leftOutSentence;
  if (cause.why !== 'waits') return undefined;
  const { obstacle } = cause;
  // A need that is left out or not ready is looked at together with its own need.
  return obstacle.kind === 'loop' || obstacle.kind === 'unknown'
    ? obstacleSentence(obstacle, quoted)
    : undefined;
}

function worthlessReason(worth: TechniqueWorth): string {
  if (!worth.used) return 'No segment uses it.';
  const [item] = worth.missingItems;
  if (item !== undefined) return `It needs the item ${item}, which nothing that can be practised picks up.`;
  if (worth.onlyAsBackup) return 'It is only a backup for techniques that are not in the run.';
  const shared = worth.sharesSpotWith.map(quoted).join(', ');
  return shared === ''
    ? 'At no landing rate does it save time over the safe way.'
    : `At no landing rate does it save time over what is used in its spot now (shared with ${shared}).`;
}

export interface ChosenCandidates {
  readonly candidates: readonly Candidate[];
  readonly skipped: readonly SkippedTechnique[];
}

/**
 * Divides the techniques into those that are ranked, in order of id, and those that are left out, with the reason.
 *
 * @param valuer gives the worth of techniques by the objective
 * @param standings where each technique stands
 */
export function* chooseCandidatesInSteps(
  input: RankInput,
  prepared: PreparedModel,
  valuer: TechniqueValuer,
  standings: ReadonlyMap<string, Standing>,
): Steps<ChosenCandidates> {
  const { fittedTechniques: subjects, constants } = prepared;
  const skipped = new Map<string, string>();
  const inRun = (id: string): boolean => subjects.get(id)?.technique.state === 'in-run';
  const needed = new Set([...subjects.values()].flatMap((s) => s.technique.needs));

  const levels = new Map<string, PracticeLevels>();
  const readyAt = new Map<string, number | null>();
  for (const [id, subject] of subjects) {
    const { history, posterior, memory } = subject;
    const { blockMinutes } = input.options;
    const ahead = memory.getOrCompute('levels', [history, input.asOfDay, blockMinutes, constants], () =>
      forecastLevels(history, input.asOfDay, blockMinutes, constants),
    );
    levels.set(id, ahead);
    const ready = (): number | null => blocksToReady(posterior, ahead, constants);
    if (inRun(id)) readyAt.set(id, 0);
    else if (needed.has(id))
      readyAt.set(id, memory.getOrCompute('ready at', [posterior, ahead, constants], ready));
    yield;
  }
  for (const id of subjects.keys()) {
    const standing = standings.get(id);
    const reason = standing && reasonFromStanding(standing);
    if (reason !== undefined) skipped.set(id, reason);
    else if (!input.options.all && keptUpByRuns(subjects.get(id)!, prepared, standing))
      skipped.set(id, 'It is in the run already, and runs keep it up.');
  }
  const openNeeds = new Map<string, string[]>();
  for (const [id, subject] of subjects) {
    const { technique } = subject;
    // A technique in the run is being landed already, so its needs no longer matter.
    const open = inRun(id)
      ? []
      : technique.needs.filter((need) => {
          const other = subjects.get(need);
          return other === undefined || !isReadyFor(other, subject, prepared);
        });
    openNeeds.set(id, [...new Set(open)].sort());
  }
  skipDependants(openNeeds, readyAt, skipped, Math.round(constants.horizonBlocks));

  const worths = new Map<string, TechniqueWorth>();
  for (const id of subjects.keys()) {
    if (skipped.has(id)) continue;
    worths.set(id, yield* valuer.nowInSteps(id));
    yield;
  }
  const providers = yield* bestItemProvidersInSteps(prepared, valuer, worths, levels, readyAt);
  for (const [id, { worth, provider, blocks }] of providers) {
    worths.set(id, worth);
    openNeeds.set(id, [...new Set([...(openNeeds.get(id) ?? []), provider])].sort());
    readyAt.set(provider, Math.max(blocks, readyAt.get(provider) ?? 0));
  }
  const wanted = new Set<string>();
  const want = (id: string): void => {
    if (wanted.has(id)) return;
    wanted.add(id);
    for (const need of openNeeds.get(id) ?? []) want(need);
  };
  for (const [id, worth] of worths) if (worth.breakEven !== null) want(id);

  const candidates: Candidate[] = [];
  for (const [id, worth] of worths) {
    const subject = subjects.get(id);
    const ahead = levels.get(id);
    if (!wanted.has(id) || subject === undefined || ahead === undefined) {
      skipped.set(id, worthlessReason(worth));
      continue;
    }
    const ready = readyAt.get(id) ?? null;
    candidates.push({
      id,
      subject,
      levels: ahead,
      worth,
      openNeeds: openNeeds.get(id) ?? [],
      readyAt: ready,
    });
  }
  const inOrder = [...subjects.keys()].filter((id) => skipped.has(id));
  return {
    candidates,
    skipped: inOrder.map((technique) => ({ technique, reason: skipped.get(technique) ?? '' })),
  };
}

/** Whether a technique needs no practice: it is in the run, and lands often enough to carry others. */
function keptUpByRuns(
  subject: FittedTechnique,
  prepared: PreparedModel,
  standing: Standing | undefined,
): boolean {
  return standing?.kind === 'in-run' && isReady(subject, prepared);
}

/** Marks a technique as skipped if it waits for one that is left out or not ready within the horizon. */
function skipDependants(
  openNeeds: ReadonlyMap<string, readonly string[]>,
  readyAt: ReadonlyMap<string, number | null>,
  skipped: Map<string, string>,
  horizon: number,
): void {
  for (let changed = true; changed;) {
    changed = false;
    for (const [id, needs] of openNeeds) {
      if (skipped.has(id)) continue;
      for (const need of needs) {
        const late = readyAt.get(need) === null;
        if (!late && !skipped.has(need)) continue;
        const why = late
          ? `is not expected to be ready within ${horizon} daily blocks`
          : 'is not ranked itself';
        skipped.set(id, `It waits for ${quoted(need)}, which ${why}.`);
        changed = true;
        break;
      }
    }
  }
}

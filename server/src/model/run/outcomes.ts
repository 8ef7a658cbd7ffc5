/** The possible outcomes of trying a technique in one place: seconds, chance, and whether it landed. */
import type { PlayOption } from './routeLayout.ts';
import { clamp, finiteOr } from '../core/numbers.ts';
import type { LandingRateOf } from './runState.ts';
import type { UseSummary } from './averageEffect.ts';
import type { Miss, UseModel } from '../core/types.ts';

/** One possible outcome in which the run continues. */
export interface Outcome {
  /** Seconds it adds to the run; negative where it saves. */
  readonly seconds: number;
  /** Chance of this outcome. The chances of a list sum to the chance that the run continues. */
  readonly chance: number;
  /** Whether the technique itself landed, so that its item is picked up. */
  readonly lands: boolean;
}

/** Further retries whose total chance is below this are left out. */
const negligible = 1e-15;

/** A use itself, or the backup that is tried after it. */
export type UseRole = 'own' | 'backup';

/**
 * How far the seconds that a use saves are from what the route says, in standard deviations of the runner's doubt.
 */
export type DeviationOf = (use: UseModel, role: UseRole) => number;

/** A normal distribution as three weighted points with the same first five moments. */
function spreadOut(mean: number, sd: number): readonly (readonly [value: number, share: number])[] {
  if (!(sd > 0) || !Number.isFinite(sd)) return [[mean, 1]];
  const far = sd * Math.sqrt(3);
  return [
    [mean - far, 1 / 6],
    [mean, 2 / 3],
    [mean + far, 1 / 6],
  ];
}

/** The misses that do not end the run: seconds lost, and the share of each. */
function lossesOf(misses: readonly Miss[]): readonly (readonly [seconds: number, share: number])[] {
  const going = misses.filter((miss) => !miss.endsRun && miss.chance > 0 && Number.isFinite(miss.chance));
  const total = going.reduce((sum, { chance }) => sum + chance, 0);
  if (total <= 0) return [[0, 1]];
  return going.map(({ loses, chance }) => [finiteOr(loses, 0), chance / total]);
}

interface Trial {
  readonly plain: UseSummary;
  readonly saves: UseModel['saves'];
  readonly misses: readonly Miss[];
  /** Deviation of the seconds saved, where it is known; else they are spread by the doubt about them. */
  readonly deviation: number | undefined;
}

/** One use with its retries; `after` is what follows the last miss. */
function trialOutcomes(trial: Trial, rate: number, after: readonly Outcome[]): Outcome[] {
  const { plain } = trial;
  const out: Outcome[] = [];
  const sd = finiteOr(trial.saves.sd, 0);
  const saves =
    trial.deviation === undefined
      ? spreadOut(plain.saves, sd)
      : [[plain.saves + trial.deviation * Math.max(0, sd), 1] as const];
  let reached = 1;
  let spent = plain.costs;
  for (let n = 1; ; n++) {
    if (rate > 0) {
      for (const [saved, share] of saves)
        out.push({ seconds: spent - saved, chance: reached * rate * share, lands: true });
    }
    reached *= (1 - rate) * (1 - plain.endShare);
    if (n >= plain.tries || reached < negligible) break;
    spent += plain.retrySeconds;
  }
  if (reached < negligible) return out;
  for (const [lost, share] of lossesOf(trial.misses)) {
    for (const next of after) {
      const chance = reached * share * next.chance;
      out.push({ seconds: spent + lost + next.seconds, chance, lands: false });
    }
  }
  return out;
}

const nothingAfter: readonly Outcome[] = [{ seconds: 0, chance: 1, lands: false }];

/**
 * The outcomes of an option at the given rates. Their chances sum to its survival, and their mean, given survival,
 * is minus the seconds saved of its average effect. If the route gives a range for the seconds saved, the runner
 * doubts them, and for a single run a landing has several possible values. Over many runs the value is always the
 * same one: with `deviationOf` the outcomes are those of a world in which it is known.
 */
export function outcomesOf(option: PlayOption, rateOf: LandingRateOf, deviationOf?: DeviationOf): Outcome[] {
  const { use, plain, backup, backupPlain } = option;
  let after = nothingAfter;
  if (backup !== null && backupPlain !== null) {
    // If the backup's numbers come from its own use, the layout has only its mean loss.
    const trial = {
      plain: backupPlain,
      saves: { mean: backupPlain.saves, sd: use.backupUse?.saves.sd ?? 0 },
      misses: use.backupUse?.misses ?? [{ chance: 1, loses: backupPlain.loses, endsRun: false }],
      deviation: deviationOf?.(use, 'backup'),
    };
    after = trialOutcomes(trial, clamp(rateOf(backup), 0, 1), nothingAfter);
  }
  const own = { plain, saves: use.saves, misses: use.misses, deviation: deviationOf?.(use, 'own') };
  return trialOutcomes(own, clamp(rateOf(option.technique), 0, 1), after);
}

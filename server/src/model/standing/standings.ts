/** Where every technique stands on a morning: the one answer that everything else shows. */
import { inOneGo, mapInSteps } from '../../incremental/steps.ts';
import type { Steps } from '../../incremental/steps.ts';
import { clamp, logit } from '../core/numbers.ts';
import type { Obstacle, Standing, StandingCause } from '../core/standing.ts';
import type { ModelCache } from '../core/modelCache.ts';
import { chanceRunRateAbove, expectationInRun } from '../skill/rateEstimates.ts';
import { prepareModelInSteps } from '../run/preparedModel.ts';
import type { FittedTechnique, PreparedModel, RankInput } from '../run/preparedModel.ts';
import {
  accusedSince,
  chanceWithinHorizon,
  competentSince,
  fallenBelow,
  hopeless,
  lastRunDay,
  lastVerdict,
  practiceSinceTakenUp,
  sessionDays,
  sessionsWithout,
  unansweredSlip,
  wasCompetent,
} from './history.ts';
import type { Bar } from './history.ts';
import { isReady, obstacles, opensTechniques, worthToday } from './needs.ts';
import { slipTests } from './slipTests.ts';
import type { SlipTests } from './slipTests.ts';

/** Everything that the standings of one morning rest on. */
interface Morning {
  readonly prepared: PreparedModel;
  readonly confidence: number;
  readonly slipsAfter: Bar['slipsAfter'];
  readonly blockMinutes: number;
  readonly leftOut: ReadonlySet<string>;
  readonly obstacles: ReadonlyMap<string, Obstacle>;
  readonly slips: SlipTests;
  readonly sessions: readonly number[];
}

type Verdict = Pick<Standing, 'kind' | 'since' | 'cause'>;

/** Where every technique of the route stands on the morning of `asOfDay`, by id, in order of id. */
export const standings = inOneGo(standingsInSteps);

/** The same in steps. */
export function* standingsInSteps(
  input: RankInput,
  cache?: ModelCache,
): Steps<ReadonlyMap<string, Standing>> {
  return yield* standingsOfInSteps(input, yield* prepareModelInSteps(input, cache));
}

/**
 * Like {@link standings}, for a model that was prepared from the same input. Ranking, assessing and planning ask one
 * after the other for the same morning, so the last answer is kept.
 */
export const standingsOf = inOneGo(standingsOfInSteps);

/** The same in steps, the longest of them the worth or the past of one technique. */
export function* standingsOfInSteps(
  { options }: RankInput,
  prepared: PreparedModel,
): Steps<ReadonlyMap<string, Standing>> {
  const { asOfDay, layout, inRun, constants, fittedTechniques, valuer } = prepared;
  const subjects = [...fittedTechniques.values()];
  const { leaveOut, confidence, blockMinutes } = options;
  const plain = [
    asOfDay,
    leaveOut,
    confidence,
    blockMinutes,
    [...inRun],
    subjects.map((one) => one.technique),
  ];
  // The worth belongs to the valuer, which an explanation exchanges for one at another worth of lost time.
  const on: unknown[] = [JSON.stringify(plain), layout, constants];
  for (const { technique, log, history, posterior } of subjects) {
    on.push(log, history, posterior, yield* valuer.nowInSteps(technique.id));
    yield;
  }
  return yield* prepared.shared.getOrComputeInSteps('standings', on, () => allStandings(options, prepared));
}

function* allStandings(
  options: RankInput['options'],
  prepared: PreparedModel,
): Steps<ReadonlyMap<string, Standing>> {
  const leftOut = new Set(options.leaveOut);
  const past = new Map<number, SlipTests>();
  const morning: Morning = {
    prepared,
    confidence: clamp(options.confidence, 0, 1),
    slipsAfter: (day) => {
      const known = past.get(day) ?? slipTests(prepared, day + 1, day);
      past.set(day, known);
      return known;
    },
    blockMinutes: options.blockMinutes,
    leftOut,
    obstacles: obstacles(prepared, leftOut),
    slips: slipTests(prepared, prepared.asOfDay),
    sessions: sessionDays(prepared),
  };
  return new Map(
    yield* mapInSteps(
      prepared.fittedTechniques,
      ([id, subject]) => [id, standingOf(subject, morning)] as const,
    ),
  );
}

function standingOf(subject: FittedTechnique, morning: Morning): Standing {
  const { prepared } = morning;
  const { technique, posterior, logitsNow } = subject;
  const {
    worth: { breakEven },
    missingItem,
  } = worthToday(subject, prepared);
  const edge = breakEven === null ? null : logit(breakEven);
  const chancePays = edge === null ? 0 : chanceRunRateAbove(posterior, logitsNow, edge);
  const runNow = expectationInRun(posterior, logitsNow, prepared.rates);
  const tried = technique.state === 'in-run';
  const verdict =
    beforeAnyRun(subject, missingItem, morning) ??
    (edge === null
      ? withoutBreakEven(subject, prepared)
      : (inRuns(subject, chancePays, { ...morning, edge }, morning) ??
        inPractice(subject, { ...morning, edge }, morning)));
  return {
    technique: technique.id,
    ...verdict,
    chancePays,
    breakEven,
    runNow,
    tried,
    worthTrying:
      verdict.kind !== 'left-out' &&
      verdict.kind !== 'waiting' &&
      breakEven !== null &&
      (verdict.kind === 'in-run' || runNow > breakEven),
  };
}

const undated = (kind: Standing['kind'], cause: StandingCause): Verdict => ({ kind, since: null, cause });

/** Left out or waiting; null if it is neither. */
function beforeAnyRun(
  { technique: { id } }: FittedTechnique,
  missingItem: string | null,
  { leftOut, obstacles }: Morning,
): Verdict | null {
  if (leftOut.has(id)) return undated('left-out', { why: 'left out' });
  const obstacle = obstacles.get(id);
  if (obstacle !== undefined) return undated('waiting', { why: 'waits', obstacle });
  // Also where the week file has it in the run: without the item nobody can try it there.
  if (missingItem !== null) return undated('waiting', { why: 'item', item: missingItem });
  return null;
}

/** A technique that saves time at no landing rate by itself: it is practised for what it opens, or not at all. */
function withoutBreakEven(subject: FittedTechnique, prepared: PreparedModel): Verdict {
  const { technique, history } = subject;
  const opens = opensTechniques(technique.id, prepared);
  if (technique.state === 'in-run')
    return undated('in-run', opens.length === 0 ? { why: 'never pays' } : { why: 'carries', opens });
  const [first] = history.practised;
  if (opens.length === 0) return undated(first ? 'aside' : 'not-begun', { why: 'never pays' });
  if (isReady(subject, prepared)) return undated(first ? 'aside' : 'not-begun', { why: 'carries', opens });
  if (first === undefined) return undated('not-begun', { why: 'nothing logged' });
  const minutes = history.practised.reduce((sum, day) => sum + day.minutes, 0);
  const cause = { why: 'practised', days: history.practised.length, minutes } as const;
  return { kind: 'learning', since: first.day, cause };
}

/** To work on again, or in the run; null if it is neither. */
function inRuns(subject: FittedTechnique, chancePays: number, bar: Bar, morning: Morning): Verdict | null {
  const { prepared, slips } = morning;
  const { technique, history, log } = subject;
  const tried = technique.state === 'in-run';
  const accused = (cause: StandingCause, day: number): Verdict => ({
    kind: 'again',
    since: accusedSince(subject, prepared, bar, day),
    cause,
  });
  if (tried && slips.slipped(technique.id))
    return accused({ why: 'slipped', test: slips.test(technique.id)! }, lastRunDay(subject));
  // Before anything is logged the chance rests on the runner's own word, which is no proof of it.
  const wordOnly = subject.paysFrom !== null && log.runs.length === 0 && log.practice.length === 0;
  if (chancePays >= bar.confidence && !wordOnly) {
    const day = unansweredSlip(subject, bar);
    if (day !== null) return accused({ why: 'not back yet', day, slipped: true }, day);
    return { kind: 'in-run', since: competentSince(subject, prepared, bar), cause: { why: 'competent' } };
  }
  if (!tried && chancePays < fallenBelow) return null;
  const verdict = lastVerdict(subject, prepared, bar);
  if (verdict?.kind === 'slipped')
    return accused({ why: 'not back yet', day: verdict.day, slipped: true }, verdict.day);
  const begun = history.practised.length > 0;
  if (tried && log.runs.length > 0 && (chancePays <= 1 - bar.confidence || verdict?.kind === 'costs time')) {
    const trusted = technique.stateWritten === true || wasCompetent(subject, prepared, bar);
    // What was practised and never competent was tried in runs too early: it is being learned still.
    if (begun && !trusted) return null;
    if (chancePays < fallenBelow) return costly(subject, chancePays, trusted, verdict, bar, morning);
  }
  if (verdict?.kind === 'competent' || (verdict?.kind === 'fallen' && tried)) {
    if (verdict.kind === 'fallen' || chancePays < fallenBelow)
      return { kind: 'again', since: verdict.day, cause: { why: 'fallen', day: verdict.day } };
    const since = competentSince(subject, prepared, bar);
    return { kind: 'in-run', since, cause: { why: 'was competent', day: verdict.day } };
  }
  const written = technique.stateWritten === true;
  if (tried && (!begun || (written && chancePays >= fallenBelow)))
    return undated('in-run', { why: 'tried in runs', written });
  return null;
}

/**
 * A technique whose runs cost time, or did and have not been made good. It is to work on again if it was competent
 * once, or the runner's word has it in the run, and practice is more likely than not to make it pay. Otherwise it is
 * left out of runs, and the ranking says whether practice on it is worth more than on others.
 */
function costly(
  subject: FittedTechnique,
  chancePays: number,
  trusted: boolean,
  verdict: ReturnType<typeof lastVerdict>,
  bar: Bar,
  { prepared, blockMinutes }: Morning,
): Verdict {
  const { asOfDay } = prepared;
  const day = verdict?.day ?? lastRunDay(subject);
  const since = accusedSince(subject, prepared, bar, day);
  if (!trusted) return { kind: 'aside', since, cause: { why: 'never landed enough' } };
  const chance = chanceWithinHorizon(subject, prepared, asOfDay - 1, bar, blockMinutes);
  if (chance < fallenBelow) return { kind: 'aside', since, cause: { why: 'out of reach', chance } };
  if (chancePays <= 1 - bar.confidence) return { kind: 'again', since, cause: { why: 'costs time' } };
  return { kind: 'again', since, cause: { why: 'not back yet', day, slipped: false } };
}

/** Being learned, put aside or not begun. */
function inPractice(subject: FittedTechnique, bar: Bar, morning: Morning): Verdict {
  const { prepared, sessions, blockMinutes } = morning;
  const { technique } = subject;
  const written = technique.stateWritten === true;
  const taken = practiceSinceTakenUp(subject, sessions);
  if (written && technique.state === 'learning')
    return { kind: 'learning', since: taken?.from ?? null, cause: { why: 'taken up by hand' } };
  if (taken === null) return undated('not-begun', { why: 'nothing logged' });
  if (written && technique.state === 'unlearned') return undated('aside', { why: 'put aside by hand' });
  const idle = sessionsWithout(subject, sessions, prepared.asOfDay);
  if (idle !== null)
    return { kind: 'aside', since: idle.lastDay + 1, cause: { why: 'not practised', ...idle } };
  const given = hopeless(subject, prepared, taken, bar, blockMinutes);
  if (given !== null) {
    const { days, minutes, chance } = given;
    return { kind: 'aside', since: given.day + 1, cause: { why: 'hopeless', days, minutes, chance } };
  }
  const { days, minutes, from } = taken;
  return { kind: 'learning', since: from, cause: { why: 'practised', days, minutes } };
}

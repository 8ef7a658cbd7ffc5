/** What practice of each technique gains by the true curves, where the gains of some hang on others. */
import { firstClosedSet } from '../../../server/src/model/rank/closedSets.ts';
import type { ClosedSet, ClosureItem } from '../../../server/src/model/rank/closedSets.ts';
import { itemLinks } from '../choices/skillChoice.ts';
import { inRun } from '../truth/truth.ts';
import type { Learning, Progress } from '../truth/truth.ts';
import { attemptsInBlock } from '../world.ts';
import type { World } from '../world.ts';
import { worthOf } from '../worth.ts';
import { readyRate } from './rollout.ts';

/** Most daily blocks that the ranking looks ahead. */
const horizon = 28;

/** Techniques that can be practised now after which a ranking by sets in turn is long enough for a session. */
const longEnough = 8;

/** Values techniques from where they stand. */
export class TrueValuer {
  private readonly world: World;
  private readonly learnings: readonly Learning[];
  private readonly state: readonly Progress[];
  private readonly rates: number[];
  private readonly worth: (rates: ArrayLike<number>) => number;
  /** For each technique that needs an item, the technique that takes it. */
  private readonly takerOf: ReadonlyMap<number, number>;
  /** V at the present rates; worked out again after they change. */
  private without: number;

  constructor(world: World, learnings: readonly Learning[], state: readonly Progress[]) {
    this.world = world;
    this.learnings = learnings;
    this.state = state;
    this.rates = state.map((at, i) => inRun(learnings[i]!, at));
    this.worth = worthOf(world);
    this.without = this.worth(this.rates);
    const links = [...itemLinks(world.choices ?? []).values()];
    this.takerOf = new Map(links.flatMap(({ taker, users }) => users.map((user) => [user, taker] as const)));
  }

  /** Seconds off V after 0, 1, … daily blocks of one technique, all others staying as they are. */
  value(skill: number): ClosureItem {
    return this.valueFrom(skill, this.without);
  }

  /**
   * The same for a technique that needs an item, with what takes that practised until it is ready, which is a need then; null
   * for one that needs no item.
   */
  valueWithItem(skill: number): ClosureItem | null {
    const { rates } = this;
    const taker = this.takerOf.get(skill);
    if (taker === undefined) return null;
    const before = rates[taker]!;
    rates[taker] = Math.max(before, this.runRateWhenReady(taker));
    const item = this.valueFrom(skill, this.worth(rates));
    rates[taker] = before;
    return { ...item, needs: [...new Set([...item.needs, taker])] };
  }

  /** From now on a technique counts as practised for so many daily blocks. */
  countAsLearned(skill: number, blocks: number): void {
    this.rates[skill] = inRun(this.learnings[skill]!, this.after(skill, blocks));
    this.without = this.worth(this.rates);
  }

  private valueFrom(skill: number, without: number): ClosureItem {
    const { rates } = this;
    const learning = this.learnings[skill]!;
    const { known, needs } = this.world.skills[skill]!;
    const before = rates[skill]!;
    const gains = new Float64Array(horizon + 1);
    let at = this.state[skill]!;
    const isReady = (): boolean => learning.rate(at) >= readyRate;
    let readyAt: number | null = known || isReady() ? 0 : null;
    for (let n = 1; n <= horizon; n++) {
      at = this.afterBlock(skill, at);
      rates[skill] = inRun(learning, at);
      gains[n] = Math.max(gains[n - 1]!, without - this.worth(rates));
      if (readyAt === null && isReady()) readyAt = n;
    }
    rates[skill] = before;
    return { gains, needs, readyAt };
  }

  private afterBlock(skill: number, at: Progress): Progress {
    const learning = this.learnings[skill]!;
    const attempts = attemptsInBlock(this.world, this.world.skills[skill]!);
    return learning.night(learning.practise(at, attempts, this.world.blockMinutes));
  }

  private after(skill: number, blocks: number): Progress {
    let at = this.state[skill]!;
    for (let n = 0; n < blocks; n++) at = this.afterBlock(skill, at);
    return at;
  }

  /** Rate in runs as soon as the rate in practice carries what stands on it, or at the end of what the ranking sees. */
  private runRateWhenReady(skill: number): number {
    const learning = this.learnings[skill]!;
    let at = this.state[skill]!;
    for (let n = 0; n < horizon && learning.rate(at) < readyRate; n++) at = this.afterBlock(skill, at);
    return inRun(learning, at);
  }
}

/** What practice of a technique gains as things stand, and with its item; the same where it needs none. */
interface Valued {
  readonly now: ClosureItem;
  readonly withItem: ClosureItem;
}

function valued(valuer: TrueValuer, skill: number): Valued {
  const now = valuer.value(skill);
  return { now, withItem: valuer.valueWithItem(skill) ?? now };
}

/**
 * The techniques set by set, each set counted as learned before what hangs together with it is valued again, until the order is
 * long enough or nothing more is gained. An item is needed in runs only, so of two sets the better one is taken: the first of those
 * that make every technique ready together with what takes its item, and the first of those without.
 *
 * @param isReady whether a technique carries what stands on it already
 * @param groups techniques that hang together
 */
export function inTurn(
  valuer: TrueValuer,
  skills: readonly number[],
  isReady: (skill: number) => boolean,
  groups: readonly (readonly number[])[],
  blockHours: number,
): number[] {
  const left = new Map(skills.map((skill) => [skill, valued(valuer, skill)]));
  const needsOf = new Map([...left].map(([skill, { now }]) => [skill, now.needs.filter((n) => !isReady(n))]));
  const canBegin = (skill: number): boolean => needsOf.get(skill)!.length === 0;
  const order: number[] = [];
  while (left.size > 0 && order.filter(canBegin).length < longEnough) {
    const here = [...left.keys()];
    const numbers = new Map(here.map((skill, n) => [skill, n]));
    const firstBy = (which: keyof Valued): ClosedSet | null =>
      firstClosedSet(
        here.map((skill): ClosureItem => {
          const { gains, readyAt, needs } = left.get(skill)![which];
          const open = needs.filter((need) => !isReady(need));
          return { gains, readyAt, needs: open.flatMap((need) => numbers.get(need) ?? []) };
        }),
        blockHours,
      );
    const [now, withItem] = [firstBy('now'), firstBy('withItem')];
    const set = (withItem?.rate ?? 0) > (now?.rate ?? 0) ? withItem : now;
    if (set === null || !(set.rate > 0)) break;
    const taken = new Set<number>();
    for (const { item, blocks } of set.members) {
      const skill = here[item]!;
      order.push(skill);
      taken.add(skill);
      left.delete(skill);
      valuer.countAsLearned(skill, blocks);
    }
    for (const group of groups) {
      if (!group.some((skill) => taken.has(skill))) continue;
      for (const skill of group) if (left.has(skill)) left.set(skill, valued(valuer, skill));
    }
  }
  return order.filter(canBegin);
}

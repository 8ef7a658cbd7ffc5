/** V of a run in which given options are played: every set of held items is followed by itself. */
import type { World } from '../world.ts';
import type { Effect } from './effect.ts';

/** Something that is tried, with the bits of the item that it needs and of the one that it picks up; 0 for none. */
export interface Played {
  readonly effect: Effect;
  readonly needs: number;
  readonly gives: number;
}

/** Chance and chance-weighted seconds of each set of held items. */
interface Sets {
  readonly chance: Float64Array;
  readonly seconds: Float64Array;
}

function emptySets(sets: number): Sets {
  return { chance: new Float64Array(sets), seconds: new Float64Array(sets) };
}

/** Works out runs of one world, again and again in the same memory. */
export class ExpectedRun {
  private readonly restart: number;
  private readonly sets: number;
  private readonly clockWeight: number;
  /** Clock seconds of a started run, so far. */
  private clock = 0;
  private now: Sets;
  private next: Sets;
  private here: Sets;
  private then: Sets;

  /**
   * @param sets number of sets of items
   * @param clockWeight worth of a second of clock time against a second of the finished run
   */
  constructor({ restart }: World, sets: number, clockWeight: number) {
    this.restart = restart;
    this.sets = sets;
    this.clockWeight = clockWeight;
    this.now = emptySets(sets);
    this.next = emptySets(sets);
    this.here = emptySets(sets);
    this.then = emptySets(sets);
  }

  /**
   * V in seconds; Infinity where no run is finished. A run that ends in a segment takes half the mean time of those that began
   * the segment with the same items and survive it.
   *
   * @param seconds mean seconds of each segment in a run that survives it, without what is in `byItems`
   * @param survival chance to survive each segment, without what is in `byItems`
   * @param byItems what needs or picks up items in each segment; no item is needed in the segment where it is picked up
   */
  worth(seconds: Float64Array, survival: Float64Array, byItems: readonly (readonly Played[])[]): number {
    const { sets } = this;
    this.now.chance.fill(0);
    this.now.seconds.fill(0);
    this.now.chance[0] = 1;
    this.clock = this.restart;
    // Segments without items in a row: their seconds, the chance to survive them all, the clock seconds of a run that begins them.
    let [time, lives, spent] = [0, 1, 0];
    for (let s = 0; s < seconds.length; s++) {
      const played = byItems[s]!;
      if (played.length === 0) {
        const [here, through] = [seconds[s]!, survival[s]!];
        time += here;
        spent += (lives * here * (1 + through)) / 2;
        lives *= through;
        continue;
      }
      this.stretch(time, lives, spent);
      [time, lives, spent] = [0, 1, 0];
      this.next.chance.fill(0);
      this.next.seconds.fill(0);
      for (let set = 0; set < sets; set++)
        if (this.now.chance[set]! > 0) this.clock += this.segment(set, seconds[s]!, survival[s]!, played);
      [this.now, this.next] = [this.next, this.now];
    }
    this.stretch(time, lives, spent);
    let [finished, total] = [0, 0];
    for (let set = 0; set < sets; set++) {
      finished += this.now.chance[set]!;
      total += this.now.seconds[set]!;
    }
    if (!(finished > 1e-12)) return Infinity;
    const final = total / finished;
    return final + this.clockWeight * (this.clock / finished - final);
  }

  /** Follows the runs through segments without items. */
  private stretch(time: number, lives: number, spent: number): void {
    const { chance, seconds } = this.now;
    for (let set = 0; set < this.sets; set++) {
      const reached = chance[set]!;
      if (reached === 0) continue;
      this.clock += reached * spent;
      seconds[set] = lives * (seconds[set]! + reached * time);
      chance[set] = lives * reached;
    }
  }

  /** Follows the runs that begin a segment with one set of items into {@link next}; gives their clock seconds in it. */
  private segment(from: number, time: number, lives: number, played: readonly Played[]): number {
    const { sets, now, next } = this;
    this.here.chance.fill(0);
    this.here.seconds.fill(0);
    this.here.chance[from] = 1;
    this.here.seconds[from] = time;
    for (const { effect, needs, gives } of played) {
      const { here, then } = this;
      then.chance.fill(0);
      then.seconds.fill(0);
      for (let set = 0; set < sets; set++) {
        const chance = here.chance[set]!;
        const spent = here.seconds[set]!;
        if (chance === 0) continue;
        if ((set & needs) !== needs) {
          then.chance[set]! += chance;
          then.seconds[set]! += spent;
          continue;
        }
        then.chance[set | gives]! += chance * effect.lands;
        then.seconds[set | gives]! += spent * effect.lands - chance * effect.landedSaves;
        then.chance[set]! += chance * effect.misses;
        then.seconds[set]! += spent * effect.misses - chance * effect.missedSaves;
      }
      [this.here, this.then] = [then, here];
    }
    let [survived, spent] = [0, 0];
    for (let set = 0; set < sets; set++) {
      const [chance, seconds] = [this.here.chance[set]!, this.here.seconds[set]!];
      survived += chance;
      spent += seconds;
      next.chance[set]! += lives * now.chance[from]! * chance;
      next.seconds[set]! += lives * (now.seconds[from]! * chance + now.chance[from]! * seconds);
    }
    if (survived === 0) return (now.chance[from]! * time) / 2;
    return (now.chance[from]! * (spent / survived) * (1 + survived * lives)) / 2;
  }
}

/** Invented runners of one route, as files: what each practised, and how it went. */
import { createRandom, type Random } from '../../samples/simulation/random.ts';
import { defaultConstants } from '../../server/src/model/core/constants.ts';

export const poolRouteName = 'lanternfall.route.yaml';

/** Techniques of the route with their difficulties. */
export const poolTechniques: Readonly<Record<string, number>> = {
  'crate-vault': 4,
  'wall-kick': 2,
  'lamp-clip': 6,
  'rope-swing': 5,
  'tide-skip': 8,
};

/** A route of these techniques. */
export const poolRouteText = `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 1:32.4, techniques: [${Object.keys(poolTechniques).join(', ')}] }
techniques:
${Object.entries(poolTechniques)
  .map(([id, difficulty]) => `  ${id}: { difficulty: ${difficulty}, saves: 3.2, loses: 1.4 }\n`)
  .join('')}`;

/** One block of practice. */
export interface InventedBlock {
  readonly technique: string;
  /** Days from the first one. */
  readonly day: number;
  readonly minutes: number;
  readonly landed: number;
  readonly tries: number;
}

/** How many nights a runner practises, and which of the techniques. */
export interface Habits {
  readonly nights?: number;
  readonly techniques?: readonly string[];
}

/**
 * The blocks of a runner: the same seed gives the same. Each technique is practised for a while, some of them not at all, and lands
 * the more often the more it was practised; how soon differs from runner to runner and from technique to technique.
 */
export function inventedBlocks(seed: number, { nights, techniques }: Habits = {}): InventedBlock[] {
  const random = createRandom(seed * 7919 + 11);
  const pace = random.between(-1, 1);
  const blocks: InventedBlock[] = [];
  for (const id of Object.keys(poolTechniques)) {
    const isChosen = techniques === undefined ? random.happens(0.8) : techniques.includes(id);
    if (isChosen) blocks.push(...ofTechnique(random, id, pace, nights ?? random.whole(3, 12)));
  }
  return blocks.sort((a, b) => a.day - b.day);
}

function ofTechnique(random: Random, technique: string, pace: number, nights: number): InventedBlock[] {
  const midway = 0.3 + 0.55 * (poolTechniques[technique]! - 1) - pace + random.between(-1, 1);
  const [slope, ceiling] = [random.between(1, 2.5), random.between(0.75, 0.97)];
  const blocks: InventedBlock[] = [];
  let practised = 0;
  let day = random.whole(0, 6);
  for (let night = 0; night < nights; night += 1) {
    const minutes = random.pick([10, 15, 20, 25, 30]);
    const tries = Math.round(minutes * random.between(2, 9));
    const level = Math.log(1 + practised / defaultConstants.unitPractice);
    const rate = ceiling / (1 + Math.exp(-slope * (level - midway)));
    let landed = 0;
    for (let i = 0; i < tries; i += 1) if (random.happens(rate)) landed += 1;
    blocks.push({ technique, day, minutes, landed, tries });
    practised += tries;
    day += random.whole(1, 3);
  }
  return blocks;
}

/** Where the files of a runner lie, and whose they say that they are. */
export interface Whose {
  /** The route as the files name it; left out: two folders above. */
  readonly route?: string;
  readonly runner?: string | undefined;
}

/** A practice log of the year 2026, of September and later. */
export function practiceText(
  blocks: readonly InventedBlock[],
  { route = `../../${poolRouteName}`, runner }: Whose = {},
): string {
  const days = [...new Set(blocks.map(({ day }) => day))];
  const sessions = days.map((day) => {
    const date = new Date(Date.UTC(2026, 8, 1 + day)).toISOString().slice(0, 10);
    const lines = blocks
      .filter((block) => block.day === day)
      .map(
        ({ technique, minutes, landed, tries }) =>
          `      - { technique: ${technique}, minutes: ${minutes}, landed: [${landed}, ${tries}] }\n`,
      );
    return `  - start: ${date}T19:${10 + (blocks[0]!.tries % 40)}\n    blocks:\n${lines.join('')}`;
  });
  const whose = runner === undefined ? '' : `runner: ${runner}\n`;
  return `route: ${route}\n${whose}sessions:${sessions.length === 0 ? ' []' : ''}\n${sessions.join('')}`;
}

/** Logs of so many runners, each in a folder of their own, by file name. The first has the first seed. */
export function runnerFolders(seeds: readonly number[], habits: Habits = {}): Record<string, string> {
  return Object.fromEntries(
    seeds.map((seed) => [
      `runners/r${seed}/lanternfall.practice.yaml`,
      practiceText(inventedBlocks(seed, habits), { runner: `Quillon-${seed}` }),
    ]),
  );
}

/** A repository of the route with so many runners. */
export function poolRepository(seeds: readonly number[], habits: Habits = {}): Record<string, string> {
  return { [poolRouteName]: poolRouteText, ...runnerFolders(seeds, habits) };
}

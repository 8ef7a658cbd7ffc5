import { createRandom, type Random } from '../../samples/simulation/random.ts';
import type { MadeRoute, MadeTechnique } from './route.ts';
import { timeOf } from './times.ts';

const dayLength = 24 * 60 * 60 * 1000;
/** Day 0 of the logs. */
const firstDay = Date.UTC(2025, 0, 6);
/** Techniques practised in the same weeks, which is also the number of blocks a night. */
const setSize = 4;

const dateOf = (day: number): string => new Date(firstDay + day * dayLength).toISOString().slice(0, 10);

/**
 * Makes a practice log: four blocks a night, four techniques at a time, in the order of the route, until `blocks`
 * blocks are written. Landing becomes likelier with practice. The same seed gives the same text.
 *
 * @param dayOf days from the first to a night; left out: practice every night
 */
export function makePractice(
  seed: number,
  route: MadeRoute,
  routeFile: string,
  blocks: number,
  dayOf = (night: number): number => night,
): string {
  const random = createRandom(seed);
  const lines = [
    '# Practice of an invented runner: made by tests/bench.',
    `route: ${routeFile}`,
    'sessions:',
  ];
  const nights = Math.ceil(blocks / setSize);
  const sets = Math.ceil(route.techniques.length / setSize);
  let written = 0;
  for (let night = 0; night < nights; night += 1) {
    lines.push(`  - start: ${dateOf(dayOf(night))}T19:${String(random.whole(10, 50))}`, '    blocks:');
    const set = Math.floor((night * sets) / nights);
    const nightsBefore = night - Math.ceil((set * nights) / sets);
    for (let place = 0; place < setSize && written < blocks; place += 1) {
      const technique = route.techniques[(set * setSize + place) % route.techniques.length];
      if (!technique) continue;
      lines.push(`      - ${block(random, technique, nightsBefore)}`);
      written += 1;
    }
  }
  return `${lines.join('\n')}\n`;
}

/** One more block of a technique on the night after `nights` nights, as a line of the log. */
export function oneMoreSession(technique: MadeTechnique, nights: number): string {
  const block = `{ technique: ${technique.id}, minutes: 20, landed: [41, 60] }`;
  return `  - start: ${dateOf(nights)}T19:30\n    blocks:\n      - ${block}\n`;
}

function block(random: Random, { id, difficulty, cycle }: MadeTechnique, nightsBefore: number): string {
  const minutes = random.pick([20, 25, 30]);
  const tries = Math.max(4, Math.floor((minutes * 60 * random.between(0.6, 0.9)) / cycle));
  const rate = Math.min(0.95, Math.max(0.02, 0.75 - difficulty * 0.09 + nightsBefore * 0.05));
  const results = Array.from({ length: tries }, () => random.happens(rate));
  const landedOf = (some: readonly boolean[]): number => some.filter(Boolean).length;
  if (tries < 60 && random.happens(0.15)) {
    return `{ technique: ${id}, minutes: ${minutes}, tape: ${results.map((hit) => (hit ? 'l' : 'm')).join('')} }`;
  }
  if (tries > 20 && random.happens(0.15)) {
    const sample = results.slice(0, 20);
    return `{ technique: ${id}, minutes: ${minutes}, attempts: ${tries}, seen: [${landedOf(sample)}, 20] }`;
  }
  return `{ technique: ${id}, minutes: ${minutes}, landed: [${landedOf(results)}, ${tries}] }`;
}

/**
 * Makes a runs log: an evening of runs every eighth day and, on the day after, one finished run. Each tries what was
 * practised before it, the forty techniques learned last. The same seed gives the same text.
 */
export function makeRuns(seed: number, route: MadeRoute, routeFile: string, evenings: number): string {
  const random = createRandom(seed);
  const lines = ['# Runs of an invented runner: made by tests/bench.', `route: ${routeFile}`, 'runs:'];
  const nights = evenings * 8;
  for (let evening = 0; evening < evenings; evening += 1) {
    const day = evening * 8 + 6;
    const learned = Math.floor((route.techniques.length * day) / nights);
    const learnedTechniques = route.techniques.slice(Math.max(0, learned - 40), learned);
    const runs = random.whole(3, 9);
    const firstSegment = route.segments[0]?.id ?? '';
    lines.push(`  - date: ${dateOf(day)}`, '    minutes: 150', `    runs: ${runs}`, '    finished: 0');
    lines.push(
      `    ended: { ${firstSegment}: { reset: ${runs} } }`,
      ...tried(random, learnedTechniques, runs),
    );
    const total = timeOf(route.seconds * random.between(0.985, 1.02));
    lines.push(
      `  - start: ${dateOf(day + 1)}T15:10`,
      `    total: ${total}`,
      ...tried(random, learnedTechniques, 1),
    );
  }
  return `${lines.join('\n')}\n`;
}

function tried(random: Random, learnedTechniques: readonly MadeTechnique[], runs: number): string[] {
  if (learnedTechniques.length === 0) return [];
  const lines = ['    tried:'];
  for (const { id, difficulty } of learnedTechniques) {
    const tries = random.whole(1, runs);
    const rate = 0.95 - difficulty * 0.05;
    let landed = 0;
    for (let i = 0; i < tries; i += 1) if (random.happens(rate)) landed += 1;
    lines.push(`      ${id}: [${landed}, ${tries}]`);
  }
  return lines;
}

/** Draws what a route says beyond seconds: shared spots, backups, retries and items. */
import { chance, seedOf } from '../random.ts';
import type { Chance } from '../random.ts';
import type { Skill, World } from '../world.ts';
import { plainChoice } from './skillChoice.ts';
import type { SkillChoice } from './skillChoice.ts';

/** Share of the techniques that stand in pairs at a spot, and of the pairs whose bigger one has the other as its backup. */
const pairedShare = 1 / 3;
const mateAsBackup = 0.5;

/** Chance that another technique has a backup, and that one can be tried again. */
const backupChance = 0.25;
const retryChance = 0.25;

/** What picks up an item saves little by itself: this share of what it would. */
const takerShare = 0.3;

/** A world whose techniques and choices are still being drawn. */
interface Draft {
  readonly skills: Skill[];
  readonly choices: SkillChoice[];
  readonly random: Chance;
}

function change({ choices }: Draft, skill: number, by: Partial<SkillChoice>): void {
  choices[skill] = { ...choices[skill]!, ...by };
}

/** Leaves a technique in one segment only, so that it is at one spot and an item is picked up in one place. */
function standIn({ skills }: Draft, skill: number, segment: number): void {
  skills[skill] = { ...skills[skill]!, segments: [segment] };
}

function drawSpots(draft: Draft): void {
  const { skills, random } = draft;
  const order = [...skills.keys()].map((skill) => ({ skill, by: random.next() }));
  order.sort((a, b) => a.by - b.by);
  for (let pair = 0; pair < Math.round((skills.length * pairedShare) / 2); pair++) {
    const [a, b] = [order[2 * pair]!.skill, order[2 * pair + 1]!.skill];
    const [segment] = skills[a]!.segments;
    for (const [skill, mate] of [
      [a, b],
      [b, a],
    ] as const) {
      standIn(draft, skill, segment!);
      change(draft, skill, { mate });
    }
  }
}

/** Whether a technique can be somebody's backup: it does not end the run, and no item hangs on it. */
function canBackUp({ skills, choices }: Draft, skill: number): boolean {
  const { takes, needsItem } = choices[skill]!;
  return !skills[skill]!.endsRun && takes === null && needsItem === null;
}

/** The other technique at the spot as the backup of the bigger one: it saves and loses there what it does by itself. */
function drawMatesAsBackups(draft: Draft): void {
  const { skills, choices, random } = draft;
  skills.forEach(({ endsRun, saves }, i) => {
    const { mate } = choices[i]!;
    if (mate === null || skills[mate]!.saves >= saves) return;
    if (random.next() >= mateAsBackup || endsRun || !canBackUp(draft, mate)) return;
    change(draft, i, { backup: { skill: mate, saves: skills[mate]!.saves, loses: skills[mate]!.loses } });
  });
}

function drawBackups(draft: Draft): void {
  const { skills, choices, random } = draft;
  skills.forEach(({ endsRun, saves, difficulty }, i) => {
    if (random.next() >= backupChance || endsRun || choices[i]!.mate !== null) return;
    const can = [...skills.keys()].filter(
      (j) =>
        j !== i && canBackUp(draft, j) && skills[j]!.saves < saves && skills[j]!.difficulty <= difficulty,
    );
    if (can.length === 0) return;
    const backup = can[random.whole(0, can.length - 1)]!;
    // What is left of the place after a miss is less than the whole.
    const left = skills[backup]!.saves * random.between(0.5, 0.9);
    const loses = skills[backup]!.loses * random.between(0.5, 1.2);
    change(draft, i, { backup: { skill: backup, saves: left, loses } });
  });
}

function drawRetries(draft: Draft): void {
  draft.skills.forEach(({ endsRun }, i) => {
    if (draft.random.next() >= retryChance || endsRun) return;
    change(draft, i, { tries: draft.random.whole(2, 3), retrySeconds: draft.random.between(0.5, 4) });
  });
}

function firstOf({ segments }: Skill): number {
  return Math.min(...segments);
}

/** One item: what takes it needs no other technique, so that no two techniques can wait for each other. */
function drawItem(draft: Draft, item: string): void {
  const { skills, choices, random } = draft;
  const free = [...skills.keys()].filter((i) => choices[i]!.takes === null && choices[i]!.needsItem === null);
  const usersAfter = (taker: number): number[] =>
    free.filter(
      (i) =>
        i !== taker &&
        choices[i]!.mate === null &&
        skills[i]!.segments.every((s) => s > firstOf(skills[taker]!)),
    );
  const takers = free.filter((i) => skills[i]!.needs.length === 0 && usersAfter(i).length > 0);
  if (takers.length === 0) return;
  const taker = takers[random.whole(0, takers.length - 1)]!;
  const later = usersAfter(taker);
  standIn(draft, taker, firstOf(skills[taker]!));
  skills[taker] = { ...skills[taker]!, saves: skills[taker]!.saves * takerShare };
  change(draft, taker, { takes: item, costs: random.between(0.3, 2) });
  for (let users = random.whole(1, 2); users > 0 && later.length > 0; users--) {
    const [user] = later.splice(random.whole(0, later.length - 1), 1);
    change(draft, user!, { needsItem: item });
  }
}

/** The same world with choices, drawn from a stream of their own: techniques of a pair and those that take items move. */
export function withChoices(world: World): World {
  const draft: Draft = {
    skills: [...world.skills],
    choices: world.skills.map(() => plainChoice),
    random: chance(seedOf(world.seed, 21)),
  };
  drawSpots(draft);
  const items = draft.random.whole(1, 2);
  for (let item = 0; item < items; item++) drawItem(draft, `item-${item}`);
  drawMatesAsBackups(draft);
  drawBackups(draft);
  drawRetries(draft);
  const { skills, choices } = draft;
  return { ...world, skills, choices };
}

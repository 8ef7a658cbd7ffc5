/** The kinds of truth that runners are drawn from. */
import { ownKind, withSlope } from './ownKind.ts';
import { plateau } from './plateau.ts';
import { saturating } from './saturating.ts';
import type { MakeTruth } from './truth.ts';

export interface Kind {
  readonly title: string;
  readonly make: MakeTruth;
  /** Steps by which the written difficulty is off. */
  readonly guessOff: number;
  /** Least share of the techniques learned before the logs begin. */
  readonly knownShare: number;
  /** Whether a technique of the run slips. */
  readonly slips: boolean;
  /** Whether the route has shared spots, backups, retries and items. */
  readonly choices: boolean;
}

const atFirst = { guessOff: 0, knownShare: 0, slips: false, choices: false };

/** Truths of the runners who slip, each in a third of them. */
const slipping: readonly MakeTruth[] = [ownKind, saturating, plateau];

export const kinds: Readonly<Record<string, Kind>> = {
  own: { title: "the model's own kind", make: ownKind, ...atFirst },
  saturating: { title: 'saturating, with a ceiling', make: saturating, ...atFirst },
  plateau: { title: 'plateau, then a jump', make: plateau, ...atFirst },
  guesses: { title: 'difficulty guesses off by two', make: ownKind, ...atFirst, guessOff: 2 },
  scale: { title: 'difficulties say little', make: withSlope(0.15), ...atFirst },
  half: { title: 'half of the run learned already', make: ownKind, ...atFirst, knownShare: 0.5 },
  slips: {
    title: 'part of the run learned, then a slip',
    make: (skills, random) => slipping[random.whole(0, slipping.length - 1)]!(skills, random),
    guessOff: 0,
    knownShare: 0.4,
    slips: true,
    choices: false,
  },
  choices: { title: 'spots, backups, retries and items', make: ownKind, ...atFirst, choices: true },
};

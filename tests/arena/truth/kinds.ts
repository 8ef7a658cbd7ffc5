/** The kinds of truth that runners are drawn from. */
import { ownKind } from './ownKind.ts';
import { plateau } from './plateau.ts';
import { saturating } from './saturating.ts';
import type { MakeTruth } from './truth.ts';

export interface Kind {
  readonly title: string;
  readonly make: MakeTruth;
  /** Steps by which the written difficulty is off. */
  readonly guessOff: number;
}

export const kinds: Readonly<Record<string, Kind>> = {
  own: { title: "the model's own kind", make: ownKind, guessOff: 0 },
  saturating: { title: 'saturating, with a ceiling', make: saturating, guessOff: 0 },
  plateau: { title: 'plateau, then a jump', make: plateau, guessOff: 0 },
  guesses: { title: 'difficulty guesses off by two', make: ownKind, guessOff: 2 },
};

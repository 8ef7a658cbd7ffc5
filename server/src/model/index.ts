/** The model as the rest of the server sees it. */
export { assess } from './assess.ts';
export { constantNotes, defaultConstants, resolveConstants } from './constants.ts';
export type { ConstantNote, Constants } from './constants.ts';
export { RankCache } from './memory.ts';
export { prepareInSteps } from './prepare.ts';
export type { RankInput } from './prepare.ts';
export { rank } from './rank/rank.ts';
export type * from './types.ts';

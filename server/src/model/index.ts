/** The model as the rest of the server sees it. */
export { assess } from './rank/assess.ts';
export { constantNotes, defaultConstants, resolveConstants } from './core/constants.ts';
export type { ConstantNote, Constants } from './core/constants.ts';
export { RankCache } from '../incremental/memo.ts';
export { prepareInSteps } from './run/prepare.ts';
export type { RankInput } from './run/prepare.ts';
export { rank } from './rank/rank.ts';
export type * from './core/types.ts';

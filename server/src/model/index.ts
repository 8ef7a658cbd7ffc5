/** The model as the rest of the server sees it. */
export { assess, assessInSteps } from './rank/assess.ts';
export { constantNotes, defaultConstants, resolveConstants } from './core/constants.ts';
export type { ConstantNote, Constants } from './core/constants.ts';
export { ModelCache } from './core/modelCache.ts';
export { prepareModelInSteps } from './run/preparedModel.ts';
export type { RankInput } from './run/preparedModel.ts';
export { rank, rankInSteps } from './rank/rank.ts';
export type * from './core/results.ts';
export type * from './core/standing.ts';
export type * from './core/types.ts';

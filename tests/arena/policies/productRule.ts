/** The product's own rule for who stays in the practice set: the one place where the arena calls it. */
import { leavingShare, choosePracticeSet } from '../../../server/src/model/rank/practiceSet.ts';
import type { SetRule } from './setRule.ts';

/** Days after which what was not practised no longer counts as part of the set. */
const carriesFor = 7;

export const productRule: SetRule = ({ rows, members, places, input, lastPractised }) =>
  choosePracticeSet({
    candidates: rows,
    currentMembers: members.filter((id) => input.asOfDay - lastPractised(id) <= carriesFor),
    size: places,
    leavingShare,
  }).members;

/** What a person has filled in on the page of a run, as it is kept until the run is logged. */
import { booleanShape, listOf, oneOf, record, textShape, type ShapeType } from '../shape.ts';
import { runLogVersion, type RunForm } from './runForm.ts';
import { endingShape } from './writtenRun.ts';

/** The ways in which a run can end. */
export const outcomeShape = oneOf('finished', 'reset', 'miss', 'death');

export const runDraftShape = record({
  version: oneOf(runLogVersion),
  kind: oneOf('run', 'evening'),
  /** The segments of the route as the draft was begun. */
  segments: listOf(record({ id: textShape, name: textShape })),
  times: listOf(record({ segment: textShape, time: textShape })),
  total: textShape,
  outcome: outcomeShape,
  endedAt: textShape,
  endedBy: textShape,
  /** Only what differs from the form's own suggestion, by the key of the use. */
  uses: listOf(record({ key: textShape, tried: booleanShape, landed: booleanShape })),
  began: textShape,
  on: textShape,
  evening: record({
    date: textShape,
    runs: textShape,
    finished: textShape,
    minutes: textShape,
    ended: listOf(record({ segment: textShape, why: endingShape, runs: textShape })),
    tried: listOf(record({ key: textShape, landed: textShape, tries: textShape })),
  }),
});
export type RunDraft = ShapeType<typeof runDraftShape>;

/** A draft in which nothing is filled in. */
export function emptyDraft({ segments, today }: Pick<RunForm, 'segments' | 'today'>): RunDraft {
  return {
    version: runLogVersion,
    kind: 'run',
    segments: segments.map(({ id, name }) => ({ id, name })),
    times: [],
    total: '',
    outcome: 'finished',
    endedAt: '',
    endedBy: '',
    uses: [],
    began: '',
    on: '',
    evening: { date: today, runs: '', finished: '', minutes: '', ended: [], tried: [] },
  };
}

/** Messages between the page of a run and the editor, and what the page stores. */
import { oneOf, orNull, record, textShape, unionOf, type ShapeType } from '../shape.ts';
import { runDraftShape } from './runDraft.ts';
import { runFormShape, runLogVersion } from './runForm.ts';
import { writtenEveningShape, writtenRunShape } from './writtenRun.ts';

/** What is stored of the page between two starts of the editor: the file that it was opened for. */
export const storedRunPageShape = record({ version: oneOf(runLogVersion), uri: textShape });
export type StoredRunPage = ShapeType<typeof storedRunPageShape>;

/** Page → editor. */
export const runPageMessageShape = unionOf(
  record({ type: oneOf('ready') }),
  // null: the person has cleared the form.
  record({ type: oneOf('draft'), draft: orNull(runDraftShape) }),
  record({ type: oneOf('run'), run: writtenRunShape }),
  record({ type: oneOf('evening'), evening: writtenEveningShape }),
);
export type RunPageMessage = ShapeType<typeof runPageMessageShape>;

/** Editor → page. `refused`: why the run was not logged. */
export const runEditorMessageShape = unionOf(
  record({ type: oneOf('show'), file: textShape, form: runFormShape, draft: orNull(runDraftShape) }),
  record({ type: oneOf('refused'), text: textShape }),
);
export type RunEditorMessage = ShapeType<typeof runEditorMessageShape>;

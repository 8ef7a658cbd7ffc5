/** What the server asks its client for: files that it cannot read itself, and a place to keep journals in. */
import { fileTextShape } from '../fileText.ts';
import { request } from './message.ts';
import { refusalShape } from '../refusal.ts';
import { listOf, orNull, record, textShape, unionOf, type ShapeType } from '../shape.ts';

const listFilesParams = record({ folder: textShape });
export type ListFilesParams = ShapeType<typeof listFilesParams>;
const listFilesResult = listOf(textShape);
export type ListFilesResult = ShapeType<typeof listFilesResult>;
/** Server → client: the files below a folder that have one of the four endings, as URIs. */
export const listFilesRequest = request('routewright/listFiles', {
  params: listFilesParams,
  result: listFilesResult,
});

const fileParams = record({ uri: textShape });
export type ReadFileParams = ShapeType<typeof fileParams>;
const optionalText = orNull(fileTextShape);
export type ReadFileResult = ShapeType<typeof optionalText>;
/** Server → client: a file's text; null where there is none or it cannot be read. */
export const readFileRequest = request('routewright/readFile', { params: fileParams, result: optionalText });

const readRevisionParams = record({ uri: textShape, revision: textShape });
export type ReadRevisionParams = ShapeType<typeof readRevisionParams>;
const readRevisionResult = unionOf(record({ text: fileTextShape }), refusalShape);
export type ReadRevisionResult = ShapeType<typeof readRevisionResult>;
/**
 * Server → client: a file as git has it at a revision. Reading it starts git, and only the client knows whether the
 * person trusts the folder, so it is the client that decides and starts it, at the moment of asking.
 */
export const readRevisionRequest = request('routewright/readRevision', {
  params: readRevisionParams,
  result: readRevisionResult,
});

const writeJournalParams = record({ uri: textShape, text: fileTextShape });
export type WriteJournalParams = ShapeType<typeof writeJournalParams>;
const writeJournalResult = orNull(textShape);
/** Why it was not kept; null where it was. */
export type WriteJournalResult = ShapeType<typeof writeJournalResult>;
/** Server → client, where there is no disk: keeps the journal of a file. */
export const writeJournalRequest = request('routewright/writeJournal', {
  params: writeJournalParams,
  result: writeJournalResult,
});

export type ReadJournalParams = ShapeType<typeof fileParams>;
export type ReadJournalResult = ShapeType<typeof optionalText>;
/** Server → client, where there is no disk: the journal of a file as it was kept; null where there is none. */
export const readJournalRequest = request('routewright/readJournal', {
  params: fileParams,
  result: optionalText,
});

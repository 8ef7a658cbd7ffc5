/** Requests of the server to its client: files that the server cannot read itself, and a place to keep journals. */
import { fileTextShape } from '../fileText.ts';
import { request } from './message.ts';
import { refusalShape } from '../refusal.ts';
import { listOf, numberShape, oneOf, orNull, record, textShape, unionOf, type ShapeType } from '../shape.ts';

const listFilesParams = record({ folder: textShape });
const listFilesResult = listOf(textShape);
export type ListFilesResult = ShapeType<typeof listFilesResult>;
/** Server → client: the files below a folder that have one of the five endings, as URIs. */
export const listFilesRequest = request('routewright/listFiles', {
  params: listFilesParams,
  result: listFilesResult,
});

const fileParams = record({ uri: textShape });
const optionalText = orNull(fileTextShape);

/** `most`: larger files are not read, in bytes. */
const readFileParams = record({ uri: textShape, most: numberShape });
/** Why a file was not read; `detail` is its size in bytes, what it is, or the editor's reason. */
const unreadFile = record({
  why: oneOf('too-large', 'no-file', 'link', 'not-text', 'refused'),
  detail: textShape,
});
const readFileResult = orNull(unionOf(fileTextShape, unreadFile));
export type ReadFileResult = ShapeType<typeof readFileResult>;
/** Server → client: a file's text, or why it is not read; null where there is no such file. */
export const readFileRequest = request('routewright/readFile', {
  params: readFileParams,
  result: readFileResult,
});

const readRevisionParams = record({ uri: textShape, revision: textShape });
export type ReadRevisionParams = ShapeType<typeof readRevisionParams>;
const readRevisionResult = unionOf(record({ text: fileTextShape }), refusalShape);
export type ReadRevisionResult = ShapeType<typeof readRevisionResult>;
/**
 * Server → client: the text of a file at a git revision. Reading it starts git, and only the client knows whether the
 * person trusts the folder at that moment. So the client decides, and the client starts git.
 */
export const readRevisionRequest = request('routewright/readRevision', {
  params: readRevisionParams,
  result: readRevisionResult,
});

const writeJournalParams = record({ uri: textShape, text: fileTextShape });
/** Why the journal was not kept; null where it was. */
const writeJournalResult = orNull(textShape);
/** Server → client, where there is no disk: keeps the journal of a file. */
export const writeJournalRequest = request('routewright/writeJournal', {
  params: writeJournalParams,
  result: writeJournalResult,
});

/** Server → client, where there is no disk: the stored journal of a file; null where there is none. */
export const readJournalRequest = request('routewright/readJournal', {
  params: fileParams,
  result: optionalText,
});

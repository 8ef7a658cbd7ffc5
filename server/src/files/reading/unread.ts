import type { Problem } from '../yaml/problem.ts';

/** Largest file that is read, in bytes: some 200 years of logs. */
export const maxFileBytes = 20_000_000;

/** Most characters of all files that one folder or command keeps in memory; a folder of 40 runners has a tenth of it. */
export const maxCharactersTogether = 40_000_000;

/** Why a file was not read. */
export interface Unread {
  /**
   * `no-file`: a folder, a pipe, a device or a socket. `outside`: a link leads out of the folder. `link`: a link of
   * which nobody can say where it leads. `no-answer`: the disk did not answer in time. `too-much`: the files before it
   * fill what may be kept in memory. `held-back`: the server
   * stopped answering while it worked on this text. `refused`: the system's reason.
   */
  readonly why:
    | 'too-large'
    | 'too-much'
    | 'no-file'
    | 'outside'
    | 'link'
    | 'no-answer'
    | 'not-text'
    | 'held-back'
    | 'refused';
  /** The file's size in bytes, what it is, where it leads, after how many seconds, or the system's reason. */
  readonly detail: string;
}

const megabytes = (bytes: number): string => `${Math.ceil(bytes / 1e6).toLocaleString('en')} MB`;

/** By `why`: the reason, worded to follow a colon, and the way out. */
const wording: Readonly<
  Record<Unread['why'], (detail: string) => readonly [reason: string, wayOut: string]>
> = {
  'too-large': (bytes) => [
    `it has ${megabytes(Number(bytes))}, and at most ${megabytes(maxFileBytes)} of a file are read`,
    'Split it: several logs may belong to one route.',
  ],
  'too-much': () => [
    `the files before it have ${megabytes(maxCharactersTogether)} together, and no more are read`,
    'Open or name a folder with fewer files.',
  ],
  'no-file': (what) => [`it is ${what} and not a file of text`, 'Remove it, or put a file in its place.'],
  outside: (target) => [
    `it leads out of the folder, to ${target}`,
    'Put the file itself here, or open or name a folder that holds both.',
  ],
  link: () => [
    'it is a link, and this editor does not say where it leads',
    'Put the file itself in its place.',
  ],
  'no-answer': (seconds) => [
    `the disk did not give it within ${seconds} seconds`,
    'Once the disk answers again, save the file or run the command again.',
  ],
  'not-text': () => ['it is not UTF-8 text', 'Save it again as UTF-8.'],
  'held-back': () => [
    'the server stopped answering while it worked on this file, and was started again without it',
    'The file is read again as soon as it changes, or with the command Restart Server.',
  ],
  refused: (reason) => [reason, 'Change that, or remove the file.'],
};

/** Why a file was not read, worded to follow a colon. */
export function unreadReason({ why, detail }: Unread): string {
  return wording[why](detail)[0];
}

/** What a file that was not read is reported as. */
export function unreadProblem(unread: Unread): Problem {
  const code = unread.why === 'too-large' ? 'file-too-large' : 'file-not-read';
  const [reason, wayOut] = wording[unread.why](unread.detail);
  return { start: 0, end: 0, code, message: `This file is not read: ${reason}. ${wayOut}` };
}

/** Whether a source gave a reason instead of a text or of bytes. */
export function isUnread(read: string | Uint8Array | Unread | undefined): read is Unread {
  return typeof read === 'object' && !(read instanceof Uint8Array);
}

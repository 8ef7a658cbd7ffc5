import { codeOf } from '../disk/errorCode.ts';

/** Why something could not be done. */
export interface Failure {
  /** The system's name of the error, such as `ENOSPC`; `''` where it was none of the system's. */
  readonly code: string;
  /** In words that follow a colon: `the disk is full`. */
  readonly reason: string;
}

const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'it does not exist',
  EACCES: 'permission is denied',
  EPERM: 'permission is denied',
  ENOSPC: 'the disk is full',
  EDQUOT: 'your share of the disk is used up',
  EROFS: 'the disk is read-only',
  ENOTDIR: 'a file is in the way of a folder',
  EISDIR: 'it is a folder',
  ERR_ENCODING_INVALID_ENCODED_DATA: 'it is not UTF-8 text',
  ELOCKED: 'another program is writing to it',
};

/** A thrown error as a value. */
export function toFailure(error: unknown): Failure {
  const code = codeOf(error);
  return { code, reason: reasons[code] ?? (error instanceof Error ? error.message : String(error)) };
}

export function isFailure(value: object): value is Failure {
  return 'reason' in value && 'code' in value;
}

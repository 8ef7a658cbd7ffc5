import { codeOf } from './errorCode.ts';

const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'it does not exist',
  ENOTDIR: 'it does not exist',
  EACCES: 'permission is denied',
  EPERM: 'permission is denied',
  EISDIR: 'it is a folder',
  ELOOP: 'it is a link that leads to itself',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk is read-only',
  EEXIST: 'it exists already',
};

/** The system's error in words that follow a colon. */
export function systemReason(error: unknown): string {
  return reasons[codeOf(error)] ?? (error instanceof Error ? error.message : String(error));
}

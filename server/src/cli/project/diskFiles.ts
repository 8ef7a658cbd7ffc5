import { readFile } from 'node:fs/promises';
import type { FileSource } from '../../workspace/fileSource.ts';
import { nodeFileSource } from '../../workspace/nodeFileSource.ts';
import { pathOf } from '../terminal/paths.ts';

/** The reason why each file could not be read, in words for people. */
export type Refusals = Map<string, string>;

/**
 * Files on the disk. It records which files could not be read and why: the editor may ignore them, a command must
 * report them. Only UTF-8 is read as text; another encoding would be decoded wrongly and written back so.
 */
export function diskFiles(refusals: Refusals): FileSource {
  const disk = nodeFileSource();
  return {
    list: (folder) => disk.list(folder),
    async read(uri) {
      try {
        const bytes = await readFile(pathOf(uri));
        return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
      } catch (error) {
        const reason = refusal(error);
        if (reason !== undefined) refusals.set(uri, reason);
        return undefined;
      }
    },
  };
}

/** Undefined for a file that does not exist: the rules report that at the line which names the file. */
function refusal(error: unknown): string | undefined {
  const code = codeOf(error);
  if (code === 'ENOENT' || code === 'ENOTDIR') return undefined;
  if (code === 'ERR_ENCODING_INVALID_ENCODED_DATA') return 'it is not UTF-8 text';
  return reasonOf(error);
}

const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'it does not exist',
  ENOTDIR: 'it does not exist',
  EACCES: 'permission is denied',
  EPERM: 'permission is denied',
  EISDIR: 'it is a folder',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk is read-only',
  EEXIST: 'it exists already',
};

/** The system's error in words. */
export function reasonOf(error: unknown): string {
  return reasons[codeOf(error) ?? ''] ?? (error instanceof Error ? error.message : String(error));
}

function codeOf(error: unknown): string | undefined {
  return error instanceof Error && 'code' in error ? String(error.code) : undefined;
}

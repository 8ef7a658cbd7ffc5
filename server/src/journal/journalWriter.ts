import { closeSync, fstatSync, fsync, fsyncSync, openSync, statSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { makeFolder, syncFolder } from '../disk/sync.ts';
import { toFailure, type Failure } from './failure.ts';
import { encodeLine, type JournalLine } from './journalLines.ts';

/** What the file of a writer is called while it is written to. */
export const openFileSuffix = '.open.jsonl';

/** A written line is synced to the disk within this time. Milliseconds. */
const syncDelay = 800;

/**
 * Appends lines to one writer's file of a journal. No lock is needed: each line goes out in one write to the end of
 * the file. A line that is acknowledged outlives the process at once, and the machine within a second.
 */
export class JournalWriter {
  private readonly folder: string;
  private readonly path: string;
  private file: number | undefined;
  private created = false;
  private timer: ReturnType<typeof setTimeout> | undefined;
  /** Files that are being synced now, and those of them to close afterwards. */
  private readonly syncing = new Set<number>();
  private readonly toClose = new Set<number>();

  /** @param name of the writer: letters, digits and hyphens; two processes may share one on the same machine */
  constructor(folder: string, name: string) {
    this.folder = folder;
    this.path = join(folder, name + openFileSuffix);
  }

  /** Writes lines and returns once they are written; a failure means that they are not. */
  append(lines: readonly JournalLine[]): Failure | undefined {
    const bytes = Buffer.from(lines.map(encodeLine).join(''), 'utf8');
    try {
      // A flush may have put the file aside in between. What is written after that could be cleared away
      // unread, so it is written again: the same line found twice counts once.
      for (;;) {
        const file = this.openFile();
        let done = 0;
        while (done < bytes.length) done += writeSync(file, bytes, done);
        if (this.isCurrentFile(file)) break;
        this.closeFile();
      }
    } catch (error) {
      this.closeFile();
      return toFailure(error);
    }
    this.timer ??= setTimeout(() => void this.syncInBackground(), syncDelay);
    return undefined;
  }

  /** Syncs to the disk what was written. */
  sync(): Failure | undefined {
    clearTimeout(this.timer);
    this.timer = undefined;
    try {
      if (this.file !== undefined) fsyncSync(this.file);
      if (this.created) syncFolder(this.folder);
      this.created = false;
      return undefined;
    } catch (error) {
      return toFailure(error);
    }
  }

  close(): Failure | undefined {
    const failure = this.timer === undefined && this.syncing.size === 0 ? undefined : this.sync();
    this.closeFile();
    return failure;
  }

  /** The same without waiting for the disk, which can take longer than the time between two attempts. */
  private async syncInBackground(): Promise<void> {
    this.timer = undefined;
    const { file, created } = this;
    if (file === undefined) return;
    this.syncing.add(file);
    try {
      await promisify(fsync)(file);
      if (created) syncFolder(this.folder);
      this.created &&= !created;
    } catch {
      // The next sync tries again; `sync` returns its failure.
    } finally {
      this.syncing.delete(file);
      if (this.toClose.delete(file)) closeQuietly(file);
    }
  }

  private openFile(): number {
    if (this.file !== undefined) return this.file;
    try {
      this.file = openSync(this.path, 'a', 0o600);
    } catch (error) {
      if (toFailure(error).code !== 'ENOENT') throw error;
      makeFolder(this.folder);
      this.file = openSync(this.path, 'a', 0o600);
    }
    this.created = true;
    return this.file;
  }

  private isCurrentFile(file: number): boolean {
    const here = statSync(this.path, { bigint: true, throwIfNoEntry: false });
    const mine = fstatSync(file, { bigint: true });
    return here?.ino === mine.ino && here.dev === mine.dev;
  }

  private closeFile(): void {
    const { file } = this;
    this.file = undefined;
    if (file === undefined) return;
    if (this.syncing.has(file)) this.toClose.add(file);
    else closeQuietly(file);
  }
}

function closeQuietly(file: number): void {
  try {
    closeSync(file);
  } catch {
    // The file is closed either way, and every acknowledged line was written.
  }
}

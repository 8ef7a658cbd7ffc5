import type { WorkspaceEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { fileKindOf } from '../../files/fileKind.ts';
import { isUnread, unreadReason } from '../../files/reading/unread.ts';
import { isFailure, type Failure } from '../../journal/failure.ts';
import type { Clock } from '../../journal/clock.ts';
import type { FlushPlan } from '../../journal/planFlush.ts';
import type { LogEntry } from '../../journal/journalLines.ts';
import { describeEntries } from '../../logging/describeEntry.ts';
import { nameIn } from '../../logging/logVocabulary.ts';
import { runnerFilesOrAll } from '../../workspace/runnerFiles.ts';
import type { LogJournal, LogJournals } from '../../journal/logJournal.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import type { PracticeServices } from './practiceServices.ts';

/** What the logs need from the client. */
export interface LogsClient {
  /**
   * False where the client cannot edit. The server then claims no file, and the command line puts entries into the
   * files.
   */
  readonly appliesEdits: () => boolean;
  readonly apply: (edit: WorkspaceEdit, label: string) => Promise<boolean>;
  /** Shows a sentence to the person once. */
  readonly notify: (sentence: string) => void;
  /** Another program has written to the journal of a file. */
  readonly changed: (uri: string) => void;
  readonly runGuarded: (name: string, run: () => void | Promise<void>) => void;
}

/** A log file whose journal this editor has open. */
export interface OpenLog {
  readonly uri: string;
  readonly journal: LogJournal;
  /** Ids of entries that the text has contained at any time since the log was opened here. */
  readonly applied: Set<string>;
  /** Ids of entries that were logged in this session of the editor; they are not reported as recovered. */
  readonly ownEntryIds: Set<string>;
  seenRevision: string;
  /** Whether entries may wait in the journal from an earlier session, which were not reported yet. */
  recoveryUnreported: boolean;
  /** Whether a block that goes into this log is being practised. */
  blockRunning: boolean;
  /** When the journal was read last, ms since 1970. */
  checkedAt: number;
  queue: Promise<unknown>;
}

/** Milliseconds between two readings of the journals, which other programs write to as well. */
const pollIntervalMs = 1000;
/** Milliseconds after which a block may have ended because no further attempt was logged. */
const recheckAfterMs = 60_000;

/**
 * The journals of the log files that are open, or that a block in progress goes into. Finished entries are put into the
 * text by an edit, which the person can undo; the journal keeps an entry until the saved file contains it.
 */
export class PracticeLogs {
  private readonly services: PracticeServices;
  private readonly journals: LogJournals;
  private readonly client: LogsClient;
  private readonly logs = new Map<string, Promise<OpenLog | Failure>>();
  private timer: ReturnType<typeof setInterval> | undefined;

  constructor(services: PracticeServices, journals: LogJournals, client: LogsClient) {
    this.services = services;
    this.journals = journals;
    this.client = client;
  }

  /** The runner's clock. */
  get clock(): Clock {
    return this.journals.clock;
  }

  durabilityNotice(uri: string): string {
    return this.journals.durabilityNotice(uri);
  }

  /** The log of a file. Its journal stays open until the file is closed and no block is in progress. */
  log(uri: string): Promise<OpenLog | Failure> {
    const name = normalUri(uri);
    const alreadyOpen = this.logs.get(name);
    if (alreadyOpen) return alreadyOpen;
    const opened = this.openLog(name).then((log) => {
      if (isFailure(log)) this.logs.delete(name);
      return log;
    });
    this.logs.set(name, opened);
    this.timer ??= setInterval(
      () => this.client.runGuarded('Looking into the journals', () => this.poll()),
      pollIntervalMs,
    );
    return opened;
  }

  /** A file was opened in the editor. */
  async opened(uri: string): Promise<void> {
    if (!this.isLog(uri)) return;
    const log = await this.log(uri);
    if (!isFailure(log)) await this.flush(log);
  }

  /**
   * Puts entries that an earlier session of the editor left in the journals into their files, also into files that
   * nobody has opened yet.
   */
  async recover(): Promise<void> {
    for (const { uri } of this.services.workspace.all()) {
      if (!this.isLog(uri) || this.logs.has(uri) || !(await this.journals.mayHavePending(uri))) continue;
      const log = await this.log(uri);
      if (isFailure(log)) continue;
      await this.flush(log);
      if (!log.blockRunning && this.services.documents.version(uri) === undefined) await this.release(uri);
    }
  }

  /** Reports entries that wait for files which were moved or renamed: the files in the folder do not show them. */
  reportLeftBehind(folders: readonly string[]): void {
    if (!this.client.appliesEdits()) return;
    for (const folder of folders)
      for (const sentence of this.journals.orphanNotices(folder)) this.client.notify(sentence);
  }

  /** A file was saved, with this text. */
  async saved(uri: string, text: string): Promise<void> {
    const log = await this.logs.get(normalUri(uri));
    if (!log || isFailure(log)) return;
    await this.inTurn(log, () => log.journal.confirmSaved(text, log.applied));
    log.seenRevision = log.journal.revision();
  }

  async closed(uri: string): Promise<void> {
    const log = await this.logs.get(normalUri(uri));
    if (log && !isFailure(log) && !log.blockRunning) await this.release(log.uri);
  }

  /**
   * Puts finished entries into the text of a log.
   *
   * @returns ids of the entries added, or the reason why none could be, worded to follow a colon
   */
  flush(log: OpenLog): Promise<{ readonly added: readonly string[] } | { readonly reason: string }> {
    return this.inTurn(log, () => this.flushNow(log));
  }

  /** Closes every journal; other programs may then put entries into the files. */
  dispose(): void {
    clearInterval(this.timer);
    for (const log of this.logs.values())
      void log.then((one) => {
        if (!isFailure(one)) one.journal.close();
      });
    this.logs.clear();
  }

  private isLog(uri: string): boolean {
    const kind = fileKindOf(uri);
    return this.client.appliesEdits() && (kind === 'practice' || kind === 'runs');
  }

  private async openLog(uri: string): Promise<OpenLog | Failure> {
    const journal = await this.journals.open(uri);
    if (isFailure(journal)) return journal;
    return {
      uri,
      journal,
      applied: new Set(),
      ownEntryIds: new Set(),
      seenRevision: journal.revision(),
      recoveryUnreported: true,
      blockRunning: false,
      checkedAt: journal.clock.now(),
      queue: Promise.resolve(),
    };
  }

  private async release(uri: string): Promise<void> {
    const log = await this.logs.get(uri);
    this.logs.delete(uri);
    if (log && !isFailure(log)) log.journal.close();
    if (this.logs.size > 0) return;
    clearInterval(this.timer);
    this.timer = undefined;
  }

  private async poll(): Promise<void> {
    for (const opened of [...this.logs.values()]) {
      const log = await opened;
      if (isFailure(log)) continue;
      const revision = log.journal.revision();
      const now = log.journal.clock.now();
      const changed = revision !== log.seenRevision;
      if (!changed && Math.abs(now - log.checkedAt) < recheckAfterMs) continue;
      log.seenRevision = revision;
      log.checkedAt = now;
      if (changed) this.client.changed(this.services.documents.spelling(log.uri));
      await this.flush(log);
    }
  }

  /** Runs the operations on one log one after another. */
  private inTurn<T>(log: OpenLog, run: () => Promise<T>): Promise<T> {
    const next = log.queue.then(run);
    log.queue = next.catch(() => undefined);
    return next;
  }

  private async flushNow(log: OpenLog): Promise<{ added: readonly string[] } | { reason: string }> {
    const { journal, uri } = log;
    const recovering = log.recoveryUnreported;
    log.recoveryUnreported = false;
    if (!journal.ownsFlush()) return { reason: 'another window has it open and takes it up' };
    const before = journal.state();
    if (isFailure(before)) return before;
    const nothing =
      before.undoneAfterSeal.size === 0 &&
      before.sealed.size === 0 &&
      !before.open.some(({ done, gone }) => done && !gone);
    if (nothing) return { added: [] };
    // The file may change while the edit is computed: then it is computed again.
    for (let attempt = 0; attempt < 4; attempt++) {
      await this.services.sync.ready();
      const unread = this.services.workspace.file(uri)?.reading.unread;
      if (unread?.why === 'held-back') return { reason: unreadReason(unread) };
      const version = this.services.documents.version(uri);
      const text = this.services.documents.text(uri) ?? (await this.services.workspace.read(uri));
      if (text === undefined) return { reason: 'it is not there any more' };
      if (isUnread(text)) return { reason: unreadReason(text) };
      const plan = await journal.planFlush(text, { dayStarts: this.dayStarts(uri), applied: log.applied });
      log.seenRevision = journal.revision();
      if ('problem' in plan) return { reason: plan.problem };
      if (isFailure(plan)) return plan;
      for (const id of plan.alreadyPresent) log.applied.add(id);
      if (plan.edits.length === 0) return { added: [] };
      const entries = recovering ? this.recoveredEntries(log, plan) : [];
      const edit = editOf(this.services.documents.spelling(uri), version ?? null, text, plan);
      if (!(await this.client.apply(edit, `Log ${fileName(uri)}`))) continue;
      for (const id of plan.added) log.applied.add(id);
      if (entries.length > 0) this.client.notify(this.recoveryMessage(uri, entries));
      return { added: plan.added };
    }
    return { reason: 'it keeps changing' };
  }

  private recoveredEntries({ journal, ownEntryIds }: OpenLog, { added }: FlushPlan): LogEntry[] {
    const state = journal.state();
    if (isFailure(state)) return [];
    return added.flatMap((id) => {
      const sealed = state.sealed.get(id);
      return sealed && !ownEntryIds.has(id) ? [sealed.seal.entry] : [];
    });
  }

  private recoveryMessage(uri: string, entries: readonly LogEntry[]): string {
    const nameOf = nameIn(this.services.workspace.projectOf(uri));
    return `Written from the journal into ${fileName(uri)}: ${describeEntries(entries, nameOf)}. Save the file to keep it there; undo takes it out.`;
  }

  private dayStarts(uri: string): number {
    const project = this.services.workspace.projectOf(uri);
    const week = project && runnerFilesOrAll(project).own.week;
    return week?.document.dayStarts ?? weekDefaults.dayStarts;
  }
}

function editOf(uri: string, version: number | null, text: string, { edits }: FlushPlan): WorkspaceEdit {
  const document = TextDocument.create(uri, 'routewright', 0, text);
  return {
    documentChanges: [
      {
        textDocument: { uri, version },
        edits: edits.map(({ start, end, text: newText }) => ({
          range: { start: document.positionAt(start), end: document.positionAt(end) },
          newText,
        })),
      },
    ],
  };
}

import { systemClock, type Clock } from './clock.ts';
import type { Failure } from './failure.ts';
import { decodeLines, encodeLine, type JournalLine } from './journalLines.ts';
import { buildJournalState, type JournalState } from './journalState.ts';
import { newSeals } from './seal.ts';
import { logEntryIds } from './logEntries.ts';
import type { LogJournal, LogJournals } from './logJournal.ts';
import { planForEditor, readLogText, settlementMarks, settleSaved } from './settlement.ts';

/** Stores one text under the URI of a file; each save replaces it. */
export interface TextStorage {
  /** Why it was not kept, in words that follow a colon; null where it was. */
  save(uri: string, text: string): Promise<string | null>;
  /** What was kept last; null for nothing. */
  load(uri: string): Promise<string | null>;
}

/**
 * Journals where there is no disk: all lines of a file are kept in one text, which is written whole each time. Two
 * editors at once would overwrite each other's lines, which is why less is promised.
 */
export function storageJournals(keeper: TextStorage, clock: Clock = systemClock): LogJournals {
  return {
    clock,
    async open(uri) {
      const text = await keeper.load(uri);
      return new StorageJournal(uri, decodeLines(text ?? '').lines, keeper, clock);
    },
    mayHavePending: async (uri) => ((await keeper.load(uri)) ?? '') !== '',
    orphanNotices: () => [],
    durabilityNotice: () =>
      'Every attempt is kept at once in this browser, for one window at a time. If you clear the data of the site, what is not saved is lost.',
  };
}

class StorageJournal implements LogJournal {
  readonly clock: Clock;
  private readonly uri: string;
  private readonly keeper: TextStorage;
  private own: JournalLine[];
  private writes = 0;

  constructor(uri: string, lines: readonly JournalLine[], keeper: TextStorage, clock: Clock) {
    this.uri = uri;
    this.own = [...lines];
    this.keeper = keeper;
    this.clock = clock;
  }

  newId(): string {
    const bytes = crypto.getRandomValues(new Uint8Array(8));
    return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  }

  async append(...lines: readonly JournalLine[]): Promise<Failure | undefined> {
    return this.write([...this.own, ...lines]);
  }

  lines(): readonly JournalLine[] {
    return this.own;
  }

  state(): JournalState {
    return buildJournalState([this.own], this.clock.now());
  }

  revision(): string {
    return String(this.writes);
  }

  ownsFlush(): boolean {
    return true;
  }

  async planFlush(text: string, { dayStarts, applied }: Parameters<LogJournal['planFlush']>[1]) {
    const fresh = newSeals(this.state(), this.clock.now(), () => this.newId());
    if (fresh.length > 0) {
      const failure = await this.append(...fresh);
      if (failure) return failure;
    }
    return planForEditor(this.state(), readLogText(this.uri, text), applied, dayStarts);
  }

  async confirmSaved(savedText: string, applied: ReadonlySet<string>): Promise<void> {
    const ids = logEntryIds(readLogText(this.uri, savedText));
    const settlement = settleSaved(this.state(), ids, applied);
    const marks = settlementMarks(settlement, this.clock.now(), () => this.newId());
    if (marks.length === 0) return;
    const all = [...this.own, ...marks];
    const state = buildJournalState([all], this.clock.now());
    await this.write(all.filter((line) => !state.isSettled(line)));
  }

  close(): void {
    // All appended lines are stored already.
  }

  /**
   * Stores the lines. Where that fails, the lines before stay: the caller gets a failure and must not count the new
   * ones.
   */
  private async write(lines: JournalLine[]): Promise<Failure | undefined> {
    const before = this.own;
    this.own = lines;
    const reason = await this.keeper.save(this.uri, lines.map(encodeLine).join(''));
    if (reason !== null) {
      this.own = before;
      return { code: '', reason };
    }
    this.writes += 1;
    return undefined;
  }
}

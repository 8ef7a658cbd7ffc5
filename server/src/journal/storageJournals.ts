import { kindOf } from '../files/fileKind.ts';
import { read, type Reading } from '../files/yaml/reading.ts';
import { systemClock, type Clock } from './clock.ts';
import type { Failure } from './failure.ts';
import { foldEdits } from './planFlush.ts';
import { decode, encode, type Line, type MarkLine, type SealLine } from './journalLines.ts';
import { reduce, type JournalState } from './journalState.ts';
import { sealsFor } from './seal.ts';
import { idsOf } from './logEntries.ts';
import type { LogJournal, LogJournals } from './logJournal.ts';

/** Keeps a text under the URI of a file, whole each time. */
export interface Keeper {
  /** Why it was not kept, in words that follow a colon; null where it was. */
  keep(uri: string, text: string): Promise<string | null>;
  /** What was kept last; null for nothing. */
  kept(uri: string): Promise<string | null>;
}

/**
 * Journals where there is no disk: all lines of a file are kept in one text, which is written whole each time. Two
 * editors at once would overwrite each other's, which is why less is promised.
 */
export function keptJournals(keeper: Keeper, clock: Clock = systemClock): LogJournals {
  return {
    async open(uri) {
      const text = await keeper.kept(uri);
      return new KeptJournal(uri, decode(text ?? '').lines, keeper, clock);
    },
    waits: async (uri) => ((await keeper.kept(uri)) ?? '') !== '',
    leftBehind: () => [],
    promise: () =>
      'Here is no disk for a journal: each attempt is kept in the storage of this browser, for one window at a time. Clearing the data of the site loses what is not saved.',
  };
}

class KeptJournal implements LogJournal {
  readonly clock: Clock;
  private readonly uri: string;
  private readonly keeper: Keeper;
  private own: Line[];
  private writes = 0;

  constructor(uri: string, lines: readonly Line[], keeper: Keeper, clock: Clock) {
    this.uri = uri;
    this.own = [...lines];
    this.keeper = keeper;
    this.clock = clock;
  }

  newId(): string {
    const bytes = crypto.getRandomValues(new Uint8Array(8));
    return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  }

  async append(...lines: readonly Line[]): Promise<Failure | undefined> {
    return this.write([...this.own, ...lines]);
  }

  lines(): readonly Line[] {
    return this.own;
  }

  state(): JournalState {
    return reduce([this.own], this.clock.now());
  }

  stamp(): string {
    return String(this.writes);
  }

  folds(): boolean {
    return true;
  }

  async fold(text: string, { dayStarts, applied }: Parameters<LogJournal['fold']>[1]) {
    const fresh = sealsFor(this.state(), this.clock.now(), () => this.newId());
    if (fresh.length > 0) {
      const failure = await this.append(...fresh);
      if (failure) return failure;
    }
    const reading = this.readText(text);
    const standing = idsOf(reading);
    const wanted = this.waiting().filter(({ block }) => standing.has(block) || !applied.has(block));
    return foldEdits(reading, wanted, dayStarts);
  }

  async settle(savedText: string, applied: ReadonlySet<string>): Promise<void> {
    const ids = idsOf(this.readText(savedText));
    const marks = this.waiting().flatMap(({ block, gone, known }): MarkLine[] => {
      const mark = { id: this.newId(), at: this.clock.now(), block };
      if (ids.has(block)) return gone ? [] : [{ ...mark, kind: 'saved' }];
      return (gone ?? known) || applied.has(block) ? [{ ...mark, kind: 'dropped' }] : [];
    });
    if (marks.length === 0) return;
    const all = [...this.own, ...marks];
    const state = reduce([all], this.clock.now());
    await this.write(all.filter((line) => !state.settled(line)));
  }

  close(): void {
    // Whatever was appended is kept already.
  }

  private waiting(): SealLine[] {
    return [...this.state().sealed.values()].flatMap(({ seal, state }) => (state === 'sealed' ? [seal] : []));
  }

  private readText(text: string): Reading {
    return read(kindOf(this.uri) === 'runs' ? 'runs' : 'practice', text);
  }

  /** Lines that could not be kept are not taken in either: nobody is told that they count. */
  private async write(lines: Line[]): Promise<Failure | undefined> {
    const before = this.own;
    this.own = lines;
    const reason = await this.keeper.keep(this.uri, lines.map(encode).join(''));
    if (reason !== null) {
      this.own = before;
      return { code: '', reason };
    }
    this.writes += 1;
    return undefined;
  }
}

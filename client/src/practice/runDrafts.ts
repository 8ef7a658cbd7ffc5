import type { Memento } from 'vscode';
import { runDraftShape, type RunDraft } from '../../../server/src/protocol/runLog/runDraft.ts';
import { readStored } from '../webview/storedState.ts';

/** What was filled in on the page of a run and not logged yet, by log: kept in the workspace until it is logged. */
export class RunDrafts {
  private readonly storage: Memento;

  constructor(storage: Memento) {
    this.storage = storage;
  }

  /** @param uri the log that the run goes into */
  of(uri: string): RunDraft | null {
    return readStored(runDraftShape, this.storage.get(keyOf(uri))) ?? null;
  }

  /** @param draft null: there is none any more */
  async keep(uri: string, draft: RunDraft | null): Promise<void> {
    await this.storage.update(keyOf(uri), draft ?? undefined);
  }
}

function keyOf(uri: string): string {
  return `routewright.runDraft ${uri}`;
}

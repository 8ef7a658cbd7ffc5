import type { TextDocumentContentChangeEvent, TextDocumentItem } from 'vscode-languageserver';
import { fileKinds, fileKindOf, stemOf } from '../../files/fileKind.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import type { OpenDocuments } from './openDocuments.ts';
import { normalUri } from './uris.ts';

export interface WorkspaceSyncNeeds {
  readonly workspace: Workspace;
  readonly documents: OpenDocuments;
  /** Called whenever the content of a file may have changed. */
  readonly changed: () => void;
}

/**
 * Keeps the workspace equal to what the editor shows and the disk holds: documents that are opened, edited and closed,
 * folders that are loaded, files that change on the disk.
 *
 * An edit is only noted when it arrives. It is read when the next answer or check needs it, so that several quick edits
 * are read once.
 */
export class WorkspaceSync {
  private readonly workspace: Workspace;
  private readonly documents: OpenDocuments;
  private readonly changed: () => void;
  /** Documents whose latest text the workspace has not read yet. */
  private readonly pendingEdits = new Set<string>();
  private folders: readonly string[] = [];
  private loading: Promise<void> = Promise.resolve();
  /**
   * Loads in progress that may find a route which a file names. Each function says whether its load may find one for a
   * given file.
   */
  private readonly searches = new Set<(uri: string) => boolean>();

  constructor({ workspace, documents, changed }: WorkspaceSyncNeeds) {
    this.workspace = workspace;
    this.documents = documents;
    this.changed = changed;
  }

  /** Resolves when all loads that were started have ended; every edit received has then been read. */
  async ready(): Promise<void> {
    let last: Promise<void> | undefined;
    while (last !== this.loading) await (last = this.loading);
    this.applyPendingEdits();
  }

  setFolders(folders: readonly string[]): Promise<void> {
    this.folders = folders;
    this.workspace.setFolders(folders);
    return this.search(
      () => true,
      () => this.workspace.load(),
    );
  }

  /** Reads every file again that is not open: a file on the disk may have changed without a notification. */
  refresh(): Promise<void> {
    return this.load(async () => {
      if (this.folders.length > 0) await this.workspace.load();
      else await Promise.all(this.workspace.all().map(({ uri }) => this.workspace.reload(uri)));
      this.applyPendingEdits();
    });
  }

  /** Files changed, appeared or disappeared outside the editor. They are read together: one may be slow. */
  filesChanged(uris: readonly string[]): Promise<void> {
    return this.load(async () => {
      const changed = uris.map(normalUri);
      for (const uri of changed) this.workspace.release(uri);
      await Promise.all(changed.map((uri) => this.workspace.reload(uri)));
    });
  }

  open(document: TextDocumentItem): Promise<void> {
    this.documents.open(document);
    const uri = normalUri(document.uri);
    this.pendingEdits.add(uri);
    this.changed();
    const load = () => this.loadSiblingFiles(uri);
    return this.folders.length === 0 ? this.search((named) => named === uri, load) : Promise.resolve();
  }

  change(uri: string, changes: readonly TextDocumentContentChangeEvent[], version: number): void {
    this.documents.change(uri, changes, version);
    this.workspace.release(normalUri(uri));
    this.pendingEdits.add(normalUri(uri));
    this.changed();
  }

  close(uri: string): Promise<void> {
    this.documents.close(uri);
    this.pendingEdits.delete(normalUri(uri));
    return this.load(async () => {
      await this.workspace.close(normalUri(uri));
      // Without a folder, other files are loaded only because an open file needs them.
      if (this.folders.length === 0 && this.documents.uris().length === 0)
        for (const file of this.workspace.all()) this.workspace.forget(file.uri);
    });
  }

  /** Reads the latest text of every document that was edited. */
  applyPendingEdits(): void {
    for (const uri of this.pendingEdits) {
      const text = this.documents.text(uri);
      if (text !== undefined) this.workspace.edit(uri, text);
    }
    this.pendingEdits.clear();
  }

  /** Whether a load in progress may still find the route that this file names. */
  mayStillFind(uri: string): boolean {
    return [...this.searches].some((concerns) => concerns(uri));
  }

  private search(concerns: (uri: string) => boolean, run: () => Promise<void>): Promise<void> {
    this.searches.add(concerns);
    return this.load(() => run().finally(() => this.searches.delete(concerns)));
  }

  private load(run: () => Promise<void>): Promise<void> {
    const next = this.loading.then(run).finally(this.changed);
    // A load that failed is reported by the code that started it; the next load starts nevertheless.
    this.loading = next.catch(() => undefined);
    return next;
  }

  /** Where no folder is open, the other files of a route are found by their names. */
  private async loadSiblingFiles(uri: string): Promise<void> {
    this.applyPendingEdits();
    const route = fileKindOf(uri) === 'route' ? uri : this.routeOf(uri);
    if (route === undefined) return;
    const stem = stemOf(route);
    const siblings = fileKinds.flatMap((kind) => [`${stem}.${kind}.yaml`, `${stem}.${kind}.yml`]);
    for (const sibling of new Set([route, ...siblings])) await this.workspace.reload(sibling);
  }

  private routeOf(uri: string): string | undefined {
    const file = this.workspace.file(uri);
    return file && file.kind !== 'route' ? routeUri(uri, file.document.route) : undefined;
  }
}

import type {
  PublishDiagnosticsParams,
  TextDocumentContentChangeEvent,
  TextDocumentItem,
} from 'vscode-languageserver';
import { Utils, URI } from 'vscode-uri';
import { fileKinds, kindOf, stemOf } from '../../files/fileKind.ts';
import { parseMoment } from '../../text/calendar.ts';
import type { Finding } from '../../rules/engine/findings.ts';
import { severitiesFrom } from '../../rules/engine/severities.ts';
import { unknownRoute } from '../../rules/checks/practice/unknownRoute.ts';
import type { FileSource } from '../../workspace/fileSource.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { AnyFile, Project } from '../../workspace/project.ts';
import { Workspace } from '../../workspace/workspace.ts';
import { Publisher } from '../documents/diagnostics.ts';
import { CloseUps } from '../estimates/techniqueEstimators.ts';
import { Estimates } from '../estimates/estimates.ts';
import { FindingStore } from '../documents/findingStore.ts';
import { LastMentions } from '../editing/lastMentions.ts';
import { normalUri, OpenDocuments } from '../documents/openDocuments.ts';
import { breathe, Lull, Pause } from '../documents/eventLoop.ts';
import { Places } from '../documents/positionConverter.ts';
import { ShownNumbers, type Numbers } from '../estimates/inlineEstimates.ts';

/** Milliseconds without an edit before the estimates are worked out anew. */
const pause = 300;

export interface SessionOptions {
  readonly source: FileSource;
  readonly publish: (params: PublishDiagnosticsParams) => void;
  /** Called after anything was published. */
  readonly published: () => void;
  /** Called after edits or changes on the disk were taken in and checked. */
  readonly checked?: () => void;
  /** Called when the numbers between the lines of a route have changed. */
  readonly recounted?: () => void;
  /** Runs what a timer started, so that nothing it throws is lost. */
  readonly work: (name: string, run: () => void | Promise<void>) => void;
}

/** What the client said that it can do, as far as answers differ by it. */
export interface ClientSupport {
  /** Edits may carry a label, and a person may leave labelled ones out. */
  readonly annotations: boolean;
  /** Completions may have places to fill in. */
  readonly snippets: boolean;
  /** A completion may say more in a line of its own kind, which is always shown. */
  readonly labelDetails: boolean;
  /** Applies edits that the server asks for. */
  readonly appliesEdits: boolean;
  /** Edits may create files. */
  readonly createsFiles: boolean;
  /** Can be asked to ask again for code lenses, and for inlay hints. */
  readonly refreshLenses: boolean;
  readonly refreshHints: boolean;
  /** Has a panel that a lens can open. */
  readonly showsInPanel: boolean;
}

/** Everything that belongs to one client: its documents, what they mean, and what it was told. */
export class Session {
  readonly workspace: Workspace;
  readonly documents = new OpenDocuments();
  readonly places: Places;
  readonly estimates = new Estimates();
  readonly findings: FindingStore;
  readonly numbers = new ShownNumbers(this.estimates);
  readonly mentions = new LastMentions();
  readonly closeUps = new CloseUps(this.estimates);
  client: ClientSupport = {
    annotations: false,
    snippets: false,
    labelDetails: false,
    appliesEdits: false,
    createsFiles: false,
    refreshLenses: false,
    refreshHints: false,
    showsInPanel: false,
  };
  private readonly options: SessionOptions;
  private readonly publisher: Publisher;
  private readonly soon: Lull;
  private readonly later: Pause;
  /** Documents whose latest text the workspace has not seen. */
  private readonly unread = new Set<string>();
  private folders: readonly string[] = [];
  private loading: Promise<void> = Promise.resolve();
  /** Loads under way that may find a route that is named and not there yet, by the files that may name it. */
  private readonly searches = new Set<(uri: string) => boolean>();
  /** Counts edits, so that slow work notices that it is out of date. */
  private edits = 0;

  constructor(options: SessionOptions) {
    this.options = options;
    this.workspace = new Workspace(options.source);
    this.places = new Places(this.workspace, this.documents);
    this.findings = new FindingStore(this.workspace, this.estimates);
    this.publisher = new Publisher(this.findings, this.places, this.documents, options.publish);
    this.soon = new Lull(() => options.work('Checking', () => this.check()));
    this.later = new Pause(pause, () => options.work('Forecast', () => this.forecast()));
  }

  /** Settles once all loading begun is done; every edit received has then been read. */
  async ready(): Promise<void> {
    let last: Promise<void> | undefined;
    while (last !== this.loading) await (last = this.loading);
    this.catchUp();
  }

  setFolders(folders: readonly string[]): Promise<void> {
    this.folders = folders;
    this.workspace.setFolders(folders);
    return this.search(
      () => true,
      () => this.workspace.load(),
    );
  }

  /** The numbers of a route worked out last; where there are none yet, they are worked out soon. */
  numbersOf(project: Project): Numbers | undefined {
    const numbers = this.numbers.of(project);
    if (!numbers && !this.soon.waiting && !this.later.waiting) this.later.restart();
    return numbers;
  }

  /** Reads every file again that is not open: the disk may have changed without a word. */
  refresh(): Promise<void> {
    return this.load(async () => {
      if (this.folders.length > 0) await this.workspace.load();
      else await Promise.all(this.workspace.all().map(({ uri }) => this.workspace.reload(uri)));
      this.catchUp();
    });
  }

  /** A file changed, appeared or vanished outside the editor. */
  fileChanged(uri: string): Promise<void> {
    return this.load(() => this.workspace.reload(normalUri(uri)));
  }

  /** @param today a date, with or without a time of day, on the runner's own clock */
  setToday(today: string | undefined): void {
    this.estimates.setToday(today === undefined ? undefined : parseMoment(today));
    this.touched();
  }

  /** @param rules by code: the severity set for what is found, or `off` */
  setRules(rules: unknown): void {
    this.findings.severities = severitiesFrom(rules);
    this.touched();
  }

  open(document: TextDocumentItem): Promise<void> {
    this.documents.open(document);
    const uri = normalUri(document.uri);
    this.unread.add(uri);
    this.touched();
    const load = () => this.loadBeside(uri);
    return this.folders.length === 0 ? this.search((named) => named === uri, load) : Promise.resolve();
  }

  change(uri: string, changes: readonly TextDocumentContentChangeEvent[], version: number): void {
    this.documents.change(uri, changes, version);
    this.unread.add(normalUri(uri));
    this.touched();
  }

  close(uri: string): Promise<void> {
    this.documents.close(uri);
    this.unread.delete(normalUri(uri));
    return this.load(async () => {
      await this.workspace.close(normalUri(uri));
      // Without a folder, files are known only for the sake of those that are open.
      if (this.folders.length === 0 && this.documents.uris().length === 0)
        for (const file of this.workspace.all()) this.workspace.forget(file.uri);
    });
  }

  /** The file a request speaks of, as the editor shows it now. */
  file(uri: string): AnyFile | undefined {
    return this.workspace.file(normalUri(uri));
  }

  /** The text of a file outside the editor; undefined where there is none. */
  read(uri: string): Promise<string | undefined> {
    return this.options.source.read(uri);
  }

  /** Whether there is a file of this name outside the editor. */
  async exists(uri: string): Promise<boolean> {
    return (await this.options.source.read(uri)) !== undefined;
  }

  dispose(): void {
    this.soon.cancel();
    this.later.cancel();
    this.edits++;
  }

  private touched(): void {
    this.edits++;
    this.soon.restart();
    this.later.cancel();
  }

  /** Takes in the latest text of every document that was edited. */
  private catchUp(): void {
    for (const uri of this.unread) {
      const text = this.documents.text(uri);
      if (text !== undefined) this.workspace.edit(uri, text);
    }
    this.unread.clear();
  }

  /** Makes sure that the findings are those of the text as it stands, for an answer that rests on them. */
  settle(): void {
    if (this.soon.waiting) this.check();
  }

  /** Checks everything as it stands and publishes. */
  private check(): void {
    this.soon.cancel();
    this.catchUp();
    this.publish();
    this.options.checked?.();
    this.later.restart();
  }

  /** Tells the client what was found; no route is said to be missing as long as it may yet be found. */
  private publish(): void {
    const searches = [...this.searches];
    const certain = ({ code, uri }: Finding): boolean =>
      code !== unknownRoute.code || !searches.some((concerns) => concerns(uri));
    if (this.publisher.publish(certain)) this.options.published();
  }

  private async forecast(): Promise<void> {
    const { edits } = this;
    for (const project of this.findings.stale()) {
      const steps = this.findings.forecast(project);
      do {
        await breathe();
        if (this.edits !== edits) return; // an edit came: it has begun a new pause
      } while (!steps.next().done);
    }
    if (this.edits === edits) this.publish();
    await this.recount(edits);
  }

  /** Works out what is shown between the lines of routes, as long as no edit comes. */
  private async recount(edits: number): Promise<void> {
    const { projects } = this.workspace.groups();
    this.numbers.keepOnly(projects);
    this.closeUps.keepOnly(projects);
    const pause = async () => {
      await breathe();
      return this.edits === edits;
    };
    let changed = false;
    for (const project of this.edits === edits ? this.numbers.stale(projects) : []) {
      if (!(await pause())) break;
      changed = (await this.numbers.work(project, pause)) || changed;
    }
    if (changed) this.options.recounted?.();
    for (const project of projects) {
      if (!(await pause())) break;
      this.closeUps.warm(project);
    }
  }

  private search(concerns: (uri: string) => boolean, run: () => Promise<void>): Promise<void> {
    this.searches.add(concerns);
    return this.load(() => run().finally(() => this.searches.delete(concerns)));
  }

  private load(run: () => Promise<void>): Promise<void> {
    const next = this.loading.then(run).finally(() => this.touched());
    // A load that failed is reported where it was begun; the next one starts all the same.
    this.loading = next.catch(() => undefined);
    return next;
  }

  /** Where no folder is open, the files that a file stands beside are found by their names. */
  private async loadBeside(uri: string): Promise<void> {
    this.catchUp();
    const route = kindOf(uri) === 'route' ? uri : this.routeOf(uri);
    if (route === undefined) return;
    const stem = stemOf(route);
    const beside = fileKinds.flatMap((kind) => [`${stem}.${kind}.yaml`, `${stem}.${kind}.yml`]);
    for (const neighbour of new Set([route, ...beside])) await this.workspace.reload(neighbour);
  }

  private routeOf(uri: string): string | undefined {
    const file = this.workspace.file(uri);
    return file && file.kind !== 'route' ? routeUri(uri, file.document.route) : undefined;
  }
}

/** The last part of a URI's path. */
export function fileName(uri: string): string {
  return Utils.basename(URI.parse(uri));
}

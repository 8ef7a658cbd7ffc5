import type {
  PublishDiagnosticsParams,
  TextDocumentContentChangeEvent,
  TextDocumentItem,
} from 'vscode-languageserver';
import { Utils, URI } from 'vscode-uri';
import { fileKinds, fileKindOf, stemOf } from '../../files/fileKind.ts';
import { parseMoment } from '../../text/calendar.ts';
import type { Finding } from '../../rules/engine/findings.ts';
import { parseSeverities } from '../../rules/severities.ts';
import { unknownRoute } from '../../rules/checks/logs/unknownRoute.ts';
import type { FileSource } from '../../workspace/fileSource.ts';
import { routeUri } from '../../workspace/groupFiles.ts';
import type { ProjectFile, Project } from '../../workspace/project.ts';
import { Workspace } from '../../workspace/workspace.ts';
import { DiagnosticsPublisher } from '../documents/diagnostics.ts';
import { TechniqueEstimators } from '../estimates/techniqueEstimators.ts';
import { Estimates } from '../estimates/estimates.ts';
import { FindingStore } from '../documents/findingStore.ts';
import { LastMentions } from '../editing/lastMentions.ts';
import { normalUri, OpenDocuments } from '../documents/openDocuments.ts';
import { yieldToEventLoop, Coalescer, Debouncer } from '../documents/eventLoop.ts';
import { PositionConverter } from '../documents/positionConverter.ts';
import { FirstEstimates } from '../estimates/firstEstimates.ts';
import { InlineEstimates, type RouteEstimates } from '../estimates/inlineEstimates.ts';

/** Milliseconds without an edit before the estimates are worked out anew. */
const forecastDelayMs = 300;

export interface SessionOptions {
  readonly source: FileSource;
  readonly publish: (params: PublishDiagnosticsParams) => void;
  /** Called after anything was published. */
  readonly published: () => void;
  /** Called after edits or changes on the disk were taken in and checked. */
  readonly checked?: () => void;
  /** Called when the numbers between the lines of a route have changed. */
  readonly inlineEstimatesChanged?: () => void;
  /** Runs what a timer started, so that nothing it throws is lost. */
  readonly runGuarded: (name: string, run: () => void | Promise<void>) => void;
}

/** What the client said that it can do, as far as answers differ by it. */
export interface ClientFeatures {
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
  readonly positions: PositionConverter;
  readonly estimates = new Estimates();
  readonly findings: FindingStore;
  readonly inlineEstimates = new InlineEstimates(this.estimates);
  readonly firstEstimates = new FirstEstimates(this.estimates, this.inlineEstimates);
  readonly mentions = new LastMentions();
  readonly techniqueEstimators = new TechniqueEstimators(this.estimates);
  client: ClientFeatures = {
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
  private readonly publisher: DiagnosticsPublisher;
  private readonly checkTimer: Coalescer;
  private readonly forecastTimer: Debouncer;
  /** Documents whose latest text the workspace has not seen. */
  private readonly changedDocuments = new Set<string>();
  private folders: readonly string[] = [];
  private loading: Promise<void> = Promise.resolve();
  /** Loads under way that may find a route that is named and not there yet, by the files that may name it. */
  private readonly searches = new Set<(uri: string) => boolean>();
  /** Counts edits, so that slow work notices that it is out of date. */
  private edits = 0;

  constructor(options: SessionOptions) {
    this.options = options;
    this.workspace = new Workspace(options.source);
    this.positions = new PositionConverter(this.workspace, this.documents);
    this.findings = new FindingStore(this.workspace, this.estimates);
    this.publisher = new DiagnosticsPublisher(this.findings, this.positions, this.documents, options.publish);
    this.checkTimer = new Coalescer(() => options.runGuarded('Checking', () => this.check()));
    this.forecastTimer = new Debouncer(forecastDelayMs, () =>
      options.runGuarded('Forecast', () => this.forecast()),
    );
  }

  /** Settles once all loading begun is done; every edit received has then been read. */
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

  /** The numbers of a route worked out last; where there are none yet, they are worked out soon. */
  inlineEstimatesOf(project: Project): RouteEstimates | undefined {
    const numbers = this.inlineEstimates.of(project);
    if (!numbers && !this.checkTimer.waiting && !this.forecastTimer.waiting) this.forecastTimer.restart();
    return numbers;
  }

  /** Reads every file again that is not open: the disk may have changed without a word. */
  refresh(): Promise<void> {
    return this.load(async () => {
      if (this.folders.length > 0) await this.workspace.load();
      else await Promise.all(this.workspace.all().map(({ uri }) => this.workspace.reload(uri)));
      this.applyPendingEdits();
    });
  }

  /** A file changed, appeared or vanished outside the editor. */
  fileChanged(uri: string): Promise<void> {
    return this.load(() => this.workspace.reload(normalUri(uri)));
  }

  /** @param today a date, with or without a time of day, on the runner's own clock */
  setToday(today: string | undefined): void {
    this.estimates.setToday(today === undefined ? undefined : parseMoment(today));
    this.scheduleCheck();
  }

  /** @param rules by code: the severity set for what is found, or `off` */
  setRules(rules: unknown): void {
    this.findings.severities = parseSeverities(rules);
    this.scheduleCheck();
  }

  open(document: TextDocumentItem): Promise<void> {
    this.documents.open(document);
    const uri = normalUri(document.uri);
    this.changedDocuments.add(uri);
    this.scheduleCheck();
    const load = () => this.loadSiblingFiles(uri);
    return this.folders.length === 0 ? this.search((named) => named === uri, load) : Promise.resolve();
  }

  change(uri: string, changes: readonly TextDocumentContentChangeEvent[], version: number): void {
    this.documents.change(uri, changes, version);
    this.changedDocuments.add(normalUri(uri));
    this.scheduleCheck();
  }

  close(uri: string): Promise<void> {
    this.documents.close(uri);
    this.changedDocuments.delete(normalUri(uri));
    return this.load(async () => {
      await this.workspace.close(normalUri(uri));
      // Without a folder, files are known only for the sake of those that are open.
      if (this.folders.length === 0 && this.documents.uris().length === 0)
        for (const file of this.workspace.all()) this.workspace.forget(file.uri);
    });
  }

  /** The file a request speaks of, as the editor shows it now. */
  file(uri: string): ProjectFile | undefined {
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
    this.checkTimer.cancel();
    this.forecastTimer.cancel();
    this.edits++;
  }

  private scheduleCheck(): void {
    this.edits++;
    this.checkTimer.restart();
    this.forecastTimer.cancel();
  }

  /** Takes in the latest text of every document that was edited. */
  private applyPendingEdits(): void {
    for (const uri of this.changedDocuments) {
      const text = this.documents.text(uri);
      if (text !== undefined) this.workspace.edit(uri, text);
    }
    this.changedDocuments.clear();
  }

  /** Makes sure that the findings are those of the text as it stands, for an answer that rests on them. */
  checkPendingEdits(): void {
    if (this.checkTimer.waiting) this.check();
  }

  /** Checks everything as it stands and publishes. */
  private check(): void {
    this.checkTimer.cancel();
    this.applyPendingEdits();
    this.publish();
    this.options.checked?.();
    this.forecastTimer.restart();
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
        await yieldToEventLoop();
        if (this.edits !== edits) return; // an edit came: it has begun a new pause
      } while (!steps.next().done);
    }
    if (this.edits === edits) this.publish();
    await this.updateInlineEstimates(edits);
  }

  /** Works out what is shown between the lines of routes, as long as no edit comes. */
  private async updateInlineEstimates(edits: number): Promise<void> {
    const { projects } = this.workspace.groups();
    this.inlineEstimates.keepOnly(projects);
    this.techniqueEstimators.keepOnly(projects);
    const pause = async () => {
      await yieldToEventLoop();
      return this.edits === edits;
    };
    let changed = false;
    for (const project of this.edits === edits ? this.inlineEstimates.stale(projects) : []) {
      if (!(await pause())) break;
      changed = (await this.inlineEstimates.update(project, pause)) || changed;
    }
    if (changed) this.options.inlineEstimatesChanged?.();
    for (const project of projects) {
      if (!(await pause())) break;
      this.techniqueEstimators.warm(project);
    }
  }

  private search(concerns: (uri: string) => boolean, run: () => Promise<void>): Promise<void> {
    this.searches.add(concerns);
    return this.load(() => run().finally(() => this.searches.delete(concerns)));
  }

  private load(run: () => Promise<void>): Promise<void> {
    const next = this.loading.then(run).finally(() => this.scheduleCheck());
    // A load that failed is reported where it was begun; the next one starts all the same.
    this.loading = next.catch(() => undefined);
    return next;
  }

  /** Where no folder is open, the files that a file stands beside are found by their names. */
  private async loadSiblingFiles(uri: string): Promise<void> {
    this.applyPendingEdits();
    const route = fileKindOf(uri) === 'route' ? uri : this.routeOf(uri);
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

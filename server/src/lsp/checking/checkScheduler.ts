import type { Finding } from '../../rules/engine/findings.ts';
import { unknownRoute } from '../../rules/checks/logs/unknownRoute.ts';
import { parseSeverities } from '../../rules/severities.ts';
import { parseMoment } from '../../text/calendar.ts';
import type { Project } from '../../workspace/project.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import {
  Coalescer,
  Debouncer,
  runInTurns,
  stopWhen,
  WorkStopped,
  type StopSignal,
} from '../documents/eventLoop.ts';
import type { WorkspaceSync } from '../documents/workspaceSync.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { InlineEstimates, RouteEstimates } from '../estimates/inlineEstimates.ts';
import type { RouteStores } from '../estimates/routeStore.ts';
import type { TechniqueEstimators } from '../estimates/techniqueEstimators.ts';
import type { DiagnosticsPublisher } from './diagnostics.ts';
import type { FindingStore } from './findingStore.ts';

/** Milliseconds without an edit before the estimates are computed again. */
const forecastDelayMs = 300;

/** What the scheduler reports to the code that shows the results. */
export interface CheckEvents {
  /** Called after any diagnostics were published. */
  readonly published: () => void;
  /** Called after edits or changes on the disk were read and checked. */
  readonly checked?: () => void;
  /** Called when the numbers between the lines of a route have changed. */
  readonly inlineEstimatesChanged?: () => void;
  /** Runs what a timer started, so that an exception is logged and not lost. */
  readonly runGuarded: (name: string, run: () => void | Promise<void>) => void;
}

export interface CheckSchedulerNeeds {
  readonly workspace: Workspace;
  readonly sync: Pick<WorkspaceSync, 'applyPendingEdits' | 'mayStillFind'>;
  readonly routes: RouteStores;
  readonly estimates: Estimates;
  readonly inlineEstimates: InlineEstimates;
  readonly techniqueEstimators: TechniqueEstimators;
  readonly findings: FindingStore;
  readonly publisher: DiagnosticsPublisher;
}

/**
 * Decides when files are checked. The fast rules run as soon as no further edit is arriving; rules that need estimates
 * run after a pause, in short steps, and stop at the next edit.
 */
export class CheckScheduler {
  private readonly needs: CheckSchedulerNeeds;
  private readonly events: CheckEvents;
  private readonly checkTimer: Coalescer;
  private readonly forecastTimer: Debouncer;
  /** Counts edits, so that slow work can see that it is out of date. */
  private edits = 0;

  constructor(needs: CheckSchedulerNeeds, events: CheckEvents) {
    this.needs = needs;
    this.events = events;
    this.checkTimer = new Coalescer(() => events.runGuarded('Checking', () => this.check()));
    this.forecastTimer = new Debouncer(forecastDelayMs, () =>
      events.runGuarded('Forecast', () => this.forecast()),
    );
  }

  /** Something has changed: all work in progress is out of date, and a check is scheduled. */
  schedule(): void {
    this.edits++;
    this.checkTimer.restart();
    this.forecastTimer.cancel();
  }

  /** @param today the runner's local date, with or without a time of day; `last`: the day after the last log entry */
  setToday(today: string | undefined): void {
    this.needs.estimates.setToday(today === 'last' ? today : parseMoment(today ?? ''));
    this.schedule();
  }

  /** @param rules by finding code: the severity that the user sets for it, or `off` */
  setRules(rules: unknown): void {
    this.needs.findings.severities = parseSeverities(rules);
    this.schedule();
  }

  /** @param runners by the URI of a route's folder: whose logs count there; what is no name is ignored */
  setChosenRunners(runners: unknown): void {
    const entries: [string, unknown][] =
      typeof runners === 'object' && runners !== null ? Object.entries(runners) : [];
    const chosen = entries.flatMap(([folder, runner]): [string, string][] =>
      typeof runner === 'string' && runner !== '' ? [[folder, runner]] : [],
    );
    this.needs.workspace.setChosenRunners(new Map(chosen));
    this.schedule();
  }

  /** Makes sure that the findings belong to the latest text, for an answer that needs them. */
  checkPendingEdits(): void {
    if (this.checkTimer.waiting) this.check();
  }

  /** The last numbers of a route that were computed. Where there are none yet, they are computed soon. */
  inlineEstimatesOf(project: Project): RouteEstimates | undefined {
    const numbers = this.needs.inlineEstimates.of(project);
    if (!numbers && !this.checkTimer.waiting && !this.forecastTimer.waiting) this.forecastTimer.restart();
    return numbers;
  }

  dispose(): void {
    this.checkTimer.cancel();
    this.forecastTimer.cancel();
    this.edits++;
  }

  private check(): void {
    this.checkTimer.cancel();
    this.needs.sync.applyPendingEdits();
    // The one place where the values of routes that are gone are dropped: a check follows each time a route is lost.
    this.needs.routes.keepOnly(this.needs.workspace.groups().projects);
    this.publish();
    this.events.checked?.();
    this.forecastTimer.restart();
  }

  /** Sends the findings to the client. No route is reported as missing while a load may still find it. */
  private publish(): void {
    const { sync, publisher } = this.needs;
    const certain = ({ code, uri }: Finding): boolean =>
      code !== unknownRoute.code || !sync.mayStillFind(uri);
    if (publisher.publish(certain)) this.events.published();
  }

  private async forecast(): Promise<void> {
    const { findings } = this.needs;
    const nextEdit = this.nextEdit();
    try {
      for (const project of findings.stale()) await runInTurns(findings.forecast(project), nextEdit);
      this.publish();
      await this.updateInlineEstimates(nextEdit);
    } catch (error) {
      // An edit came: it has begun a new pause.
      if (!(error instanceof WorkStopped)) throw error;
    }
  }

  /** Computes the numbers shown between the lines of routes; stops when an edit arrives. */
  private async updateInlineEstimates(nextEdit: StopSignal): Promise<void> {
    const { workspace, inlineEstimates, techniqueEstimators } = this.needs;
    const projects = workspace.projectsInUse();
    let changed = false;
    for (const project of await runInTurns(inlineEstimates.stale(projects), nextEdit))
      changed = (await inlineEstimates.update(project, nextEdit)) || changed;
    if (changed) this.events.inlineEstimatesChanged?.();
    for (const project of projects) await runInTurns(techniqueEstimators.warm(project), nextEdit);
  }

  /** Stops work that is out of date with the next edit. */
  private nextEdit(): StopSignal {
    const { edits } = this;
    return stopWhen(() => this.edits !== edits);
  }
}

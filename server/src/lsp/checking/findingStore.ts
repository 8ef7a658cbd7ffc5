import type { Steps } from '../../incremental/steps.ts';
import { sameItems } from '../../incremental/mapIncremental.ts';
import type { Reading } from '../../files/reading/reading.ts';
import {
  CheckCache,
  checkProject,
  forecastTechniqueIds,
  forecastFindings,
  readingFindings,
  strayFindings,
} from '../../rules/checkProject.ts';
import { applyAllowances } from '../../rules/allowances.ts';
import { findingCodes, needsForecast } from '../../rules/catalogue.ts';
import type { Finding, ReadingLookup } from '../../rules/engine/findings.ts';
import type { RuleContext } from '../../rules/engine/rule.ts';
import { isFreeOfReadingProblems } from '../../rules/engine/suppressCascades.ts';
import { withSeverities, type Severities } from '../../rules/severities.ts';
import type { ProjectFile, Project } from '../../workspace/project.ts';
import { modelFilesOf } from '../../queries/modelLimits.ts';
import { runnerFilesOrAll } from '../../workspace/runnerFiles.ts';
import { unwatched, type WorkWatch } from '../../workspace/workWatch.ts';
import { filesOf, type Workspace } from '../../workspace/workspace.ts';
import type { Estimates } from '../estimates/estimates.ts';
import type { RouteStore, RouteStores } from '../estimates/routeStore.ts';

/** The findings of the fast rules in a project, and the readings that they were found in. */
interface CheckResult {
  readonly readings: readonly Reading[];
  readonly day: number;
  /** Whose files count, and who was chosen: one of them may be known without the other. */
  readonly runners: readonly (string | undefined)[];
  readonly findings: readonly Finding[];
}

/**
 * The findings of every file in its current text. Files that did not change since the last check are not checked again.
 */
export class FindingStore {
  private readonly workspace: Workspace;
  private readonly estimates: Estimates;
  private readonly watch: WorkWatch;
  /** The severities that the user set; they replace those of the codes. */
  severities: Severities = new Map();
  private readonly checked: RouteStore<CheckResult>;
  private readonly caches: RouteStore<CheckCache>;
  private findingsByReading = new WeakMap<Reading, readonly Finding[]>();
  private byUri: ReadonlyMap<string, readonly Finding[]> = new Map();

  /** @param watch learns which file is checked */
  constructor(workspace: Workspace, estimates: Estimates, routes: RouteStores, watch = unwatched) {
    this.workspace = workspace;
    this.estimates = estimates;
    this.watch = watch;
    this.checked = routes.create();
    this.caches = routes.create();
  }

  /** Findings of a file at the last `checkAll`. */
  of(uri: string): readonly Finding[] {
    return this.byUri.get(uri) ?? [];
  }

  /**
   * Runs the rules over the changed files. Rules that need estimates use the last ones computed: their positions are
   * then right at once, and `forecast` makes their content right after a pause.
   *
   * @returns findings by file; files without any are left out
   */
  checkAll(): ReadonlyMap<string, readonly Finding[]> {
    const { projects, strays } = this.workspace.groups();
    const found: (readonly Finding[])[] = [
      ...this.workspace.all().map((file) => this.read(file)),
      strayFindings(strays, this.readings),
      ...projects.map((project) => this.check(project)),
      ...projects.map((project) => this.placeForecast(project)),
    ];
    const byUri = new Map<string, Finding[]>();
    const settled = applyAllowances(
      this.workspace.all().map(({ uri }) => uri),
      found.flat(),
      {
        readings: this.readings,
        codes: findingCodes,
        decided: (uri, code) =>
          isFreeOfReadingProblems(this.workspace, uri) && (!needsForecast(code) || this.isForecast(uri)),
      },
    );
    for (const finding of withSeverities(settled, this.severities)) {
      const list = byUri.get(finding.uri);
      if (list) list.push(finding);
      else byUri.set(finding.uri, [finding]);
    }
    for (const list of byUri.values()) list.sort((a, b) => a.start - b.start || a.end - b.end);
    this.byUri = byUri;
    return byUri;
  }

  /** Projects with rules that need estimates, where the estimates are older than the files. */
  stale(): readonly Project[] {
    return this.workspace.groups().projects.filter((project) => {
      const own = modelFilesOf(project);
      return own !== undefined && this.estimates.isStale(project, own, this.forecastTechniques(project));
    });
  }

  /** Computes the estimates that a project's slow rules need, in steps. */
  *forecast(project: Project): Steps<void> {
    const own = modelFilesOf(project);
    if (!own) return;
    yield* this.estimates.assessment(project, own, this.forecastTechniques(project));
  }

  private forecastTechniques(project: Project): Set<string> {
    return forecastTechniqueIds(this.context(project));
  }

  private readonly readings: ReadingLookup = (uri) => this.workspace.file(uri)?.reading;

  private read(file: ProjectFile): readonly Finding[] {
    let findings = this.findingsByReading.get(file.reading);
    if (!findings) {
      findings = this.watch.on(file.uri, () => readingFindings(file));
      this.findingsByReading.set(file.reading, findings);
    }
    return findings;
  }

  private check(project: Project): readonly Finding[] {
    const context = this.context(project);
    const readings = filesOf(project).map(({ reading }) => reading);
    const before = this.checked.get(project);
    const { today: day } = context;
    const runners = [context.own.runner, project.chosenRunner];
    if (before?.day === day && sameItems(before.runners, runners) && sameItems(before.readings, readings))
      return before.findings;
    const cache = this.caches.getOrMake(project, () => new CheckCache());
    const findings = this.watch.on(project.route.uri, () => checkProject(context, this.readings, cache));
    this.checked.set(project, { readings, day, runners, findings });
    return findings;
  }

  private placeForecast(project: Project): readonly Finding[] {
    const assessment = this.estimates.lastAssessment(project);
    return assessment && modelFilesOf(project)
      ? forecastFindings(this.context(project), assessment, this.readings)
      : [];
  }

  /** Whether the rules that need estimates have checked a file. */
  private isForecast(uri: string): boolean {
    const projects = this.workspace.projectsOf(uri);
    return projects.length > 0 && projects.every((project) => this.estimates.lastAssessment(project));
  }

  private context(project: Project): RuleContext {
    const { own } = runnerFilesOrAll(project);
    return { project, own, today: this.estimates.day(own) };
  }
}

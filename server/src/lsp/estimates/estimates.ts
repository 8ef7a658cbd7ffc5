import { sameItems } from '../../incremental/mapIncremental.ts';
import { dayOf } from '../../text/calendar.ts';
import type { Moment } from '../../files/documents/documents.ts';
import type { Reading } from '../../files/yaml/reading.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { assess, prepareInSteps, rank, type Assessment, RankCache } from '../../model/index.ts';
import { rankReport, type RankReport } from '../../reports/rank/rankReport.ts';
import type { Project } from '../../workspace/project.ts';
import { questionOf, type Question } from '../../queries/modelInput.ts';
import type { Own } from '../../workspace/runnerFiles.ts';
import { filesOf } from '../../workspace/workspace.ts';

type Assessments = ReadonlyMap<string, Assessment>;

/** What was worked out for one route, and from what. */
interface Kept {
  readonly readings: readonly Reading[];
  readonly day: number | undefined;
  question?: Question;
  /** As far as it was asked for. */
  readonly assessment: Map<string, Assessment>;
  report?: RankReport;
  reportOfAll?: RankReport;
}

/**
 * The model's answers for each route, worked out when they are asked for and kept for as long as the files
 * and the day they stand on are the same.
 */
export class Estimates {
  private readonly kept = new Map<string, Kept>();
  private readonly caches = new Map<string, RankCache>();
  private readonly lastAssessments = new Map<string, Assessments>();
  private today: Moment | undefined;

  /** The runner's date and time of day; undefined: the day after the last log entry is asked about. */
  setToday(today: Moment | undefined): void {
    this.today = today;
  }

  /** Day number of the runner's today, by the hour at which their day begins. */
  day(own: Own): number | undefined {
    const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
    return this.today && dayOf(this.today, dayStarts);
  }

  question(project: Project, own: Own): Question {
    const kept = this.of(project, own);
    return (kept.question ??= questionOf(project, own, {
      asOf: kept.day,
      memory: this.cache(project).shared,
    }));
  }

  /** Does in steps what all answers about a project begin with: between them something else may go first. */
  prepared(project: Project, own: Own): Generator<void> {
    return prepareInSteps(this.question(project, own), this.cache(project));
  }

  /** @param all also what is in the run already */
  ranking(project: Project, own: Own, all = false): RankReport {
    const kept = this.of(project, own);
    const key = all ? 'reportOfAll' : 'report';
    const question = this.question(project, own);
    const asked = all ? { ...question, options: { ...question.options, all } } : question;
    return (kept[key] ??= rankReport(rank(asked, this.cache(project)), question.asOfDay));
  }

  /** Where the techniques of these ids stand now. */
  assessment(project: Project, own: Own, ids: Iterable<string>): Assessments {
    const { assessment } = this.of(project, own);
    const missing = new Set([...ids].filter((id) => !assessment.has(id)));
    if (missing.size > 0) {
      const found = assess(this.question(project, own), this.cache(project), missing);
      for (const [id, one] of found) assessment.set(id, one);
    }
    this.lastAssessments.set(project.route.uri, assessment);
    return assessment;
  }

  /** The assessment made last, perhaps of older files: to place what is known while the next is waited for. */
  lastAssessment(project: Project): Assessments | undefined {
    return this.lastAssessments.get(project.route.uri);
  }

  /** Whether an assessment of these techniques would have to be worked out first. */
  isStale(project: Project, own: Own, ids: Iterable<string>): boolean {
    const { assessment } = this.of(project, own);
    return (
      [...ids].some((id) => project.techniques.has(id) && !assessment.has(id)) ||
      this.lastAssessments.get(project.route.uri) !== assessment
    );
  }

  /** Lets go of everything that belongs to routes other than these. */
  keepOnly(projects: readonly Project[]): void {
    const present = new Set(projects.map(({ route }) => route.uri));
    for (const map of [this.kept, this.caches, this.lastAssessments])
      for (const uri of [...map.keys()]) if (!present.has(uri)) map.delete(uri);
  }

  private of(project: Project, own: Own): Kept {
    const readings = filesOf(project).map(({ reading }) => reading);
    const day = this.day(own);
    const before = this.kept.get(project.route.uri);
    if (before?.day === day && sameItems(before?.readings ?? [], readings)) return before!;
    const kept: Kept = { readings, day, assessment: new Map() };
    this.kept.set(project.route.uri, kept);
    return kept;
  }

  /** What is kept of a route's logs from one question to the next. */
  cache(project: Project): RankCache {
    const { uri } = project.route;
    const cache = this.caches.get(uri) ?? new RankCache();
    this.caches.set(uri, cache);
    return cache;
  }
}

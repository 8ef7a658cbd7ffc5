import { wordAt } from '../journal/standing.ts';
import type { Verdict } from '../model/review/review.ts';
import type { RunReviewParams } from '../protocolPractice.ts';
import type { ViewResult } from '../protocolViews.ts';
import { formatFigures, formatShare, formatShares, listed } from '../reports/format.ts';
import { heading, list, pageMarkdown, prose, tableOf, type Page, type Part } from '../reports/page.ts';
import type { ReviewReport, ReviewRow } from '../reports/reviewReport.ts';
import { namesOf } from '../workspace/names.ts';
import type { Project, RunsFile } from '../workspace/project.ts';
import { questionOf } from '../workspace/question.ts';
import { ownPart } from '../workspace/runner.ts';
import { weekReview } from '../workspace/weekReview.ts';
import { normalUri } from './openDocuments.ts';
import { askedOf, routeName } from './rank.ts';
import type { Session } from './session.ts';

/** What one logged run changed: the review of the week with it, held against the review without it. */
export function runReview(session: Session, { uri, id }: RunReviewParams): ViewResult {
  const asked = askedOf(session, normalUri(uri));
  if ('message' in asked) return asked;
  const { project, own } = asked;
  if (!own.runs.some((file) => has(file, id)))
    return {
      message: 'This run is in no runs file any more, so there is nothing to hold against each other.',
    };
  const cache = session.estimates.cache(project);
  // The run counts from the day after it on.
  const question = questionOf(project, own, { memory: cache.shared });
  const without: Project = { ...project, runs: project.runs.map((file) => withoutRun(file, id)) };
  const ownWithout = ownPart(without);
  if ('runners' in ownWithout) return { message: 'The logs name several runners.' };
  const earlier = questionOf(without, ownWithout, { asOf: question.asOfDay, memory: cache.shared });
  const after = weekReview(project, question, cache);
  const before = weekReview(without, earlier, cache);
  return {
    markdown: pageMarkdown(
      changePage(before, after, namesOf(project), `After the run: ${routeName(project)}`),
    ),
  };
}

function has({ reading, document }: RunsFile, id: string): boolean {
  return document.runs.some(({ path }) => wordAt(reading, [...path, 'id']) === id);
}

function withoutRun(file: RunsFile, id: string): RunsFile {
  const runs = file.document.runs.filter(({ path }) => wordAt(file.reading, [...path, 'id']) !== id);
  return { ...file, document: { ...file.document, runs } };
}

interface Pair {
  readonly before: ReviewRow;
  readonly after: ReviewRow;
}

/** The difference between two reviews, the techniques that the run tried first. */
export function changePage(
  before: ReviewReport,
  after: ReviewReport,
  names: ReadonlyMap<string, string>,
  title: string,
): Page {
  const nameOf = (id: string): string => names.get(id) ?? id;
  const earlier = new Map(before.techniques.map((row) => [row.technique, row]));
  const pairs = after.techniques.flatMap((row): Pair[] => {
    const one = earlier.get(row.technique);
    return one ? [{ before: one, after: row }] : [];
  });
  const tried = pairs.filter((pair) => pair.after.run.tries !== pair.before.run.tries);
  const turned = (verdict: Verdict): Pair[] =>
    pairs.filter((pair) => pair.after.verdict === verdict && pair.before.verdict !== verdict);
  const section = (name: string, of: readonly Pair[]): Part[] =>
    of.length === 0
      ? []
      : [
          heading(name),
          list(of.map((pair) => ({ name: nameOf(pair.after.technique), text: pair.after.reason }))),
        ];
  const others = pairs.filter(
    (pair) =>
      pair.after.verdict !== pair.before.verdict && !['slipped', 'competent'].includes(pair.after.verdict),
  );
  const parts: Part[] = [
    ...section('To bring back', turned('slipped')),
    ...section('Now worth trying', turned('competent')),
    ...section('Judged otherwise now', others),
    ...bestChange(before, after, nameOf),
  ];
  return {
    title,
    parts: [
      prose(
        tried.length === 0
          ? 'The run tried no technique that the review counts: no landing rate has changed.'
          : `The run tried ${listed(tried.map(({ after: { technique } }) => nameOf(technique)))}.`,
      ),
      ...(parts.length === 0
        ? [prose('What is worth trying and what to practise stay as they were: one run moves little.')]
        : parts),
      ...(tried.length === 0 ? [] : [heading('Landing rates in a run'), ratesTable(tried, nameOf)]),
    ],
  };
}

function bestChange(before: ReviewReport, after: ReviewReport, nameOf: (id: string) => string): Part[] {
  if (!after.best || after.best.technique === before.best?.technique) return [];
  const earlier = before.best ? `, before the run ${nameOf(before.best.technique)}` : '';
  return [
    heading('The most to gain by practice'),
    prose(
      `${nameOf(after.best.technique)}, ${formatFigures(after.best.gainPerHour)} s per hour of practice${earlier}.`,
    ),
  ];
}

function ratesTable(pairs: readonly Pair[], nameOf: (id: string) => string): Part {
  const rows = pairs.map(({ before, after }) => [
    nameOf(after.technique),
    `${after.run.landed - before.run.landed}/${after.run.tries - before.run.tries}`,
    `${formatShare(before.run.mean)} (${formatShares(before.run)})`,
    `${formatShare(after.run.mean)} (${formatShares(after.run)})`,
    after.breakEven === null ? '·' : formatShare(after.breakEven),
  ]);
  return tableOf(['Technique', 'This run', 'Before', 'Now', 'Break-even'], rows);
}

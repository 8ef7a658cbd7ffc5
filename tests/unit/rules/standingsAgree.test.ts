import { beforeAll, describe, expect, it } from 'vitest';
import { findingsIn, workspaceWith } from '../../../schemas/exampleFindings.ts';
import { weekDefaults } from '../../../server/src/files/documents/weekDocument.ts';
import type { Verdict } from '../../../server/src/model/review/verdict.ts';
import { ModelCache } from '../../../server/src/model/core/modelCache.ts';
import { standings } from '../../../server/src/model/standing/standings.ts';
import type { Standing } from '../../../server/src/model/core/standing.ts';
import type { StandingKind } from '../../../server/src/model/core/types.ts';
import type { StandingReport } from '../../../server/src/protocol/standing.ts';
import { buildModelInput } from '../../../server/src/queries/modelInput.ts';
import { standingSentence } from '../../../server/src/queries/standingText.ts';
import { techniqueNamesOf } from '../../../server/src/queries/names.ts';
import { weekReviewReport } from '../../../server/src/reports/review/weekReviewReport.ts';
import type { Finding } from '../../../server/src/rules/engine/findings.ts';
import { inventProject } from '../../helpers/inventedProjects.ts';
import { projectCount } from '../../helpers/projectCount.ts';
import { contextOf } from './marked.ts';

interface ReviewedTechnique {
  readonly technique: string;
  readonly verdict: Verdict;
  readonly reason: string;
  readonly competentNow: number;
  readonly slip: { readonly slipped: boolean } | null;
}

/** What the consumers say of one project, beside where each technique stands. */
interface Seen {
  /** The chance that the week file asks for. */
  readonly confidence: number;
  readonly standings: ReadonlyMap<string, Standing>;
  readonly sentences: ReadonlyMap<string, string>;
  readonly reviewed: readonly ReviewedTechnique[];
  readonly reviewStandings: readonly StandingReport[];
  readonly findings: readonly Pick<Finding, 'code' | 'message'>[];
}

async function look(seed: number): Promise<Seen> {
  const files = inventProject(seed);
  const [project] = (await workspaceWith(files)).groups().projects;
  const { own, today } = contextOf(project!);
  const input = buildModelInput(project!, own, { asOf: today });
  const names = techniqueNamesOf(project!);
  const cache = new ModelCache();
  const found = standings(input, cache);
  const review = weekReviewReport(project!, input, cache);
  return {
    confidence: own.week?.document.confidence ?? weekDefaults.confidence,
    standings: found,
    sentences: new Map(
      [...found].map(([id, one]) => [id, standingSentence(one, (of) => names.get(of) ?? of)]),
    ),
    reviewed: review.techniques,
    reviewStandings: review.standings,
    findings: await findingsIn(files),
  };
}

/** The verdicts that a standing allows. */
const allowed: Readonly<Record<StandingKind, readonly Verdict[]>> = {
  again: ['slipped'],
  'in-run': ['competent', 'overPractised'],
  learning: ['steady', 'tooFewDays', 'untried'],
  aside: ['steady', 'tooFewDays', 'untried'],
  waiting: ['steady', 'tooFewDays', 'untried'],
  'left-out': ['steady', 'tooFewDays', 'untried'],
  'not-begun': ['steady', 'tooFewDays', 'untried'],
};

/** Where review and rules say something else than the standings, each as a sentence. */
function contradictions({
  confidence,
  standings,
  sentences,
  reviewed,
  reviewStandings,
  findings,
}: Seen): string[] {
  const wrong: string[] = [];
  const hold = (holds: boolean, what: string): void => void (holds || wrong.push(what));
  const of = (code: string) => findings.filter((finding) => finding.code === code);
  const named = (code: string): string[] =>
    of(code).flatMap(({ message }) => /^`([a-z-]+)`/.exec(message)?.[1] ?? []);
  const kinds = (code: string): (StandingKind | undefined)[] =>
    named(code).map((id) => standings.get(id)?.kind);

  for (const { technique, verdict, reason, competentNow, slip } of reviewed) {
    const { kind, cause, chancePays, tried, breakEven } = standings.get(technique)!;
    hold(allowed[kind].includes(verdict), `review calls ${technique} ${verdict}, which is ${kind}`);
    hold(reason.startsWith(sentences.get(technique)!), `review gives ${technique} a reason of its own`);
    hold(competentNow === chancePays, `review has a chance of its own for ${technique}`);
    const counts = tried && breakEven !== null && kind !== 'left-out' && kind !== 'waiting';
    hold(!slip?.slipped || !counts || kind === 'again', `${technique} slipped, and is ${kind}`);
    hold(
      cause.why !== 'slipped' || slip?.slipped === true,
      `${technique} slipped, and review does not say so`,
    );
  }
  hold(reviewed.length === standings.size, 'review leaves techniques out');
  for (const { technique, standing, reason } of reviewStandings) {
    hold(standing === standings.get(technique)?.kind, `review's standing of ${technique}`);
    hold(reason === sentences.get(technique), `review's sentence of ${technique}`);
  }

  const complained = new Set(named('lands-too-rarely'));
  for (const [id, { kind, cause, tried, chancePays }] of standings)
    hold(
      complained.has(id) ===
        (kind === 'again' ||
          (cause.why === 'never pays' && kind === 'in-run') ||
          cause.why === 'never landed enough' ||
          cause.why === 'out of reach' ||
          (kind === 'learning' && tried && chancePays <= 1 - confidence)),
      `check ${complained.has(id) ? 'finds' : 'does not find'} ${id} below its break-even, which is ${kind}`,
    );
  for (const { message } of of('lands-too-rarely'))
    hold(
      [...sentences.values()].some((sentence) => message.includes(sentence)),
      'a sentence of its own',
    );
  for (const kind of kinds('drilled-past-use')) hold(kind === 'in-run', `drilled past its use, and ${kind}`);
  const early = of('set-changed-early').flatMap(({ message }) =>
    [...message.split(' no longer practised')[0]!.matchAll(/`([a-z-]+)`/g)].map(([, id]) => id!),
  );
  for (const id of early)
    hold(['learning', 'again', 'aside'].includes(standings.get(id)!.kind), `${id} left the set early`);
  const gaps = of('gap-in-practice').flatMap(({ message }) =>
    [...message.split(' in the practice set')[0]!.matchAll(/`([a-z-]+)`/g)].map(([, id]) => id!),
  );
  for (const id of gaps)
    hold(['learning', 'again'].includes(standings.get(id)!.kind), `${id} is in no set, and has a gap`);
  for (const { message } of of('state-against-logs')) {
    const [, id, written] = /^`([a-z-]+)` is `([a-z-]+)` here/.exec(message)!;
    const { kind } = standings.get(id!)!;
    const agrees =
      written === 'in-run'
        ? !['again', 'learning', 'aside'].includes(kind)
        : written === 'learning' && kind !== 'in-run';
    hold(!agrees, `${id} is ${written} in the week file and ${kind}, which is no contradiction`);
  }
  return wrong;
}

const { count, limit } = projectCount(40);
const seeds = Array.from({ length: count }, (_, i) => 9000 + i);
let seen: readonly Seen[] = [];
beforeAll(async () => {
  const all: Seen[] = [];
  for (const seed of seeds) all.push(await look(seed));
  seen = all;
}, limit);

describe('review and rules on random projects', () => {
  it('never contradict where a technique stands', () => {
    const wrong = seen.flatMap((one, i) => contradictions(one).map((what) => `seed ${seeds[i]!}: ${what}`));
    expect(wrong).toEqual([]);
  });

  it('met every standing, and every rule that speaks of one', () => {
    const met = new Set(seen.flatMap(({ standings }) => [...standings.values()].map(({ kind }) => kind)));
    expect([...met].sort()).toEqual(Object.keys(allowed).sort());
    const codes = new Set(seen.flatMap(({ findings }) => findings.map(({ code }) => code)));
    for (const code of [
      'lands-too-rarely',
      'drilled-past-use',
      'gap-in-practice',
      'set-changed-early',
      'state-against-logs',
    ])
      expect(codes).toContain(code);
  });

  /** The first project that has a technique of this standing, and that technique. */
  const first = (kind: StandingKind): [Seen, string] => {
    for (const one of seen)
      for (const [id, standing] of one.standings) if (standing.kind === kind) return [one, id];
    throw new Error(`no technique is ${kind}`);
  };

  it.each([
    ['again', 'steady'],
    ['in-run', 'steady'],
    ['learning', 'competent'],
    ['aside', 'slipped'],
  ] as const)('a verdict on a technique that is `%s` that became `%s` is noticed', (kind, verdict) => {
    const [one, id] = first(kind);
    const reviewed = one.reviewed.map((row) => (row.technique === id ? { ...row, verdict } : row));
    expect(contradictions({ ...one, reviewed })).not.toEqual([]);
  });

  it('a standing, a sentence and a finding of a rule that differ are noticed', () => {
    const [one, id] = first('again');
    const reviewStandings = one.reviewStandings.map((row) => ({ ...row, standing: 'aside' as const }));
    expect(contradictions({ ...one, reviewStandings })).not.toEqual([]);
    const reviewed = one.reviewed.map((row) => ({ ...row, reason: 'It seems fine.' }));
    expect(contradictions({ ...one, reviewed })).not.toEqual([]);
    expect(contradictions({ ...one, findings: [] })).not.toEqual([]);
    for (const [code, message] of [
      ['drilled-past-use', `\`${id}\` is in the run.`],
      ['state-against-logs', `\`${id}\` is \`learning\` here.`],
    ] as const)
      expect(contradictions({ ...one, findings: [...one.findings, { code, message }] })).not.toEqual([]);
    const [competent, other] = first('in-run');
    for (const [code, message] of [
      ['lands-too-rarely', `\`${other}\` is to be worked on again.`],
      ['gap-in-practice', `8 days passed, while \`${other}\` was in the practice set.`],
      ['set-changed-early', `\`${other}\` was no longer practised.`],
    ] as const)
      expect(
        contradictions({ ...competent, findings: [...competent.findings, { code, message }] }),
      ).not.toEqual([]);
  });
});

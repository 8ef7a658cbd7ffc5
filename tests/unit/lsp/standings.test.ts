/** Everything in the editor that says where a technique stands says the same, and what the model says. */
import { neverStopped } from './editor.ts';
import { runToCompletion } from '../../../server/src/incremental/steps.ts';
import fc from 'fast-check';
import type { MarkupContent } from 'vscode-languageserver';
import { afterAll, describe, expect, it } from 'vitest';
import { codeLensProvider } from '../../../server/src/lsp/editing/codeLens.ts';
import { hoverProvider } from '../../../server/src/lsp/editing/hover.ts';
import { semanticTokensProvider } from '../../../server/src/lsp/editing/semanticTokens.ts';
import { standingModifiers, tokenModifiers } from '../../../server/src/lsp/editing/tokenLegend.ts';
import { practiceOffer } from '../../../server/src/lsp/practice/practiceOffer.ts';
import { panelData } from '../../../server/src/lsp/requests/panel.ts';
import { rankHandler } from '../../../server/src/lsp/requests/rank.ts';
import { isInSet, type Standing } from '../../../server/src/model/core/standing.ts';
import type { StandingKind } from '../../../server/src/model/core/types.ts';
import { standings } from '../../../server/src/model/standing/standings.ts';
import { panelDataShape, type PanelData } from '../../../server/src/protocol/panel/panelData.ts';
import type { PanelView } from '../../../server/src/protocol/panel/views.ts';
import { buildModelInput } from '../../../server/src/queries/modelInput.ts';
import { standingLabels, standingSentence } from '../../../server/src/queries/standingText.ts';
import { parseMoment } from '../../../server/src/text/calendar.ts';
import { escapeMarkdown } from '../../../server/src/safeText/markdown.ts';
import { runnerFilesOf, type RunnerFiles } from '../../../server/src/workspace/runnerFiles.ts';
import { inventFiles } from '../../helpers/inventedFiles.ts';
import { projectCount } from '../../helpers/projectCount.ts';
import { desk, sitDown, today, type Sitting } from './practice/desk.ts';

const day = parseMoment(today)!.date;
const kinds = Object.keys(standingLabels) as StandingKind[];
type Kinds = Readonly<Record<string, StandingKind | undefined>>;

/** What the model says, asked for these files alone and without anything that the server keeps. */
function modelStandings({ services }: Sitting, uri: string): ReadonlyMap<string, Standing> {
  const project = services.workspace.projectOf(uri)!;
  const own = runnerFilesOf(project) as RunnerFiles;
  return standings(buildModelInput(project, own, { asOf: day }));
}

/** Where the definition of a technique begins. */
function definitionOf(text: string, id: string): { line: number; character: number } {
  const rows = text.split('\n');
  const from = rows.indexOf('techniques:');
  return { line: rows.findIndex((row, line) => line > from && row.startsWith(`  ${id}:`)), character: 2 };
}

function hoverKinds({ services }: Sitting, uri: string, ids: readonly string[], sentences: Sentences): Kinds {
  const text = services.documents.text(uri)!;
  return byId(ids, (id) => {
    const hover = runToCompletion(
      hoverProvider(services)({ textDocument: { uri }, position: definitionOf(text, id) }),
    );
    const [head, plain] = (hover!.contents as MarkupContent).value.split('\n\n');
    expect(plain!.split('  \n')[0], id).toBe(escapeMarkdown(sentences(id)));
    return kinds.find((kind) => head!.includes(` of 10 · ${standingLabels[kind]} · as of `));
  });
}

function lensKinds({ services }: Sitting, uri: string, ids: readonly string[], sentences: Sentences): Kinds {
  const text = services.documents.text(uri)!;
  const titles = new Map(
    codeLensProvider(services)({ textDocument: { uri } }).map(({ range, command }) => [
      range.start.line,
      command!.title,
    ]),
  );
  return byId(ids, (id) => {
    const title = titles.get(definitionOf(text, id).line)!;
    if (/^No\. \d+ to learn next · /.test(title)) return 'not-begun';
    const found = kinds.find((kind) => title.toLowerCase().startsWith(`${standingLabels[kind]} · `));
    if (found === 'again') expect(title.endsWith(sentences(id)), title).toBe(true);
    return found;
  });
}

/** The modifier of each technique, which must be the same wherever the file names it. */
function tokenKinds({ services }: Sitting, uri: string, ids: readonly string[]): Kinds {
  const rows = services.documents.text(uri)!.split('\n');
  const { data } = semanticTokensProvider(services)({ textDocument: { uri } });
  const found = new Map<string, StandingKind>();
  let line = 0;
  let start = 0;
  for (let at = 0; at < data.length; at += 5) {
    start = data[at]! > 0 ? data[at + 1]! : start + data[at + 1]!;
    line += data[at]!;
    const id = rows[line]!.slice(start, start + data[at + 2]!);
    const modifiers = tokenModifiers.filter((_, bit) => data[at + 4]! & (1 << bit));
    const marked = kinds.filter((kind) => modifiers.includes(standingModifiers[kind]));
    if (!ids.includes(id) || marked.length === 0) continue;
    expect(marked, id).toHaveLength(1);
    expect(found.get(id) ?? marked[0], id).toBe(marked[0]);
    found.set(id, marked[0]!);
  }
  return byId(ids, (id) => found.get(id));
}

type Sentences = (id: string) => string;

function byId<T>(ids: readonly string[], valueOf: (id: string) => T): Readonly<Record<string, T>> {
  return Object.fromEntries(ids.map((id) => [id, valueOf(id)]));
}

/** A technique as the panel, the ranking and the practice offer list it. */
interface Listed {
  readonly technique: string;
  readonly standing: StandingKind;
  readonly standingText: string;
  readonly inSet: boolean;
}

/** The standings of a list; the words and the mark of the practice set must fit each. */
function listedKinds(listed: readonly Listed[]): Kinds {
  for (const { technique, standing, standingText, inSet } of listed) {
    expect(standingText.startsWith(standingLabels[standing]), technique).toBe(true);
    expect(inSet, technique).toBe(isInSet({ kind: standing }));
  }
  return Object.fromEntries(listed.map(({ technique, standing }) => [technique, standing]));
}

function panelOf({ services }: Sitting, uri: string, view: PanelView, technique: string | null): PanelData {
  const data = runToCompletion(panelData(services, { uri, view, technique, objective: 'time', wait: true }));
  expect(panelDataShape.misfit(data)).toBeUndefined();
  return data;
}

describe('where a technique stands', () => {
  const seen = new Set<StandingKind>();
  // Together these have every standing.
  const seeds = [[3], [6], [11], [12], [31], [36]] as [number][];
  const { count, limit } = projectCount(seeds.length + 4);

  it(
    'is the same in the hover, the lens, the tokens, the panel, the ranking and the practice offer',
    async () => {
      await fc.assert(
        fc.asyncProperty(fc.noShrink(fc.nat()), async (seed) => {
          const { files, techniques: ids } = inventFiles(seed, day);
          const at = desk(files);
          const sitting = await sitDown(at);
          await sitting.open('a.route.yaml');
          await sitting.services.sync.ready();
          const uri = at.uri('a.route.yaml');
          const project = sitting.services.workspace.projectOf(uri)!;
          const model = modelStandings(sitting, uri);
          const wanted = byId(ids, (id) => model.get(id)!.kind);
          for (const kind of Object.values(wanted)) seen.add(kind);
          const nameOf = (id: string): string => project.techniques.get(id)?.name ?? id;
          const sentences: Sentences = (id) => standingSentence(model.get(id)!, nameOf);

          await sitting.services.inlineEstimates.update(project, neverStopped);
          expect(hoverKinds(sitting, uri, ids, sentences), 'hover').toEqual(wanted);
          expect(lensKinds(sitting, uri, ids, sentences), 'lens').toEqual(wanted);
          expect(tokenKinds(sitting, uri, ids), 'tokens').toEqual(wanted);

          const { ranking } = panelOf(sitting, uri, 'ranking', null);
          expect(listedKinds([...ranking!.rows, ...ranking!.skipped]), 'panel').toEqual(wanted);
          for (const { technique, lines } of ranking!.rows)
            expect(lines[0], technique).toBe(sentences(technique));
          const { curve } = panelOf(sitting, uri, 'curve', ids[0]!);
          expect(listedKinds([curve!])).toEqual({ [ids[0]!]: wanted[ids[0]!] });
          expect(curve!.facts[0]).toEqual({ label: 'Where it stands', text: sentences(ids[0]!) });
          const { week } = panelOf(sitting, uri, 'week', null);
          expect(wanted).toMatchObject(listedKinds(week!.set));
          // Nobody leaves the practice set without being competent, put aside or left out.
          const planned = week!.set.map(({ technique }) => technique);
          expect(planned).toEqual(expect.arrayContaining(ids.filter((id) => isInSet({ kind: wanted[id]! }))));

          const { lines, skipped } = runToCompletion(rankHandler(sitting.services)({ uri }));
          expect(listedKinds([...lines, ...skipped]), 'ranking').toEqual(wanted);

          const { panelReports } = sitting.services;
          const offer = await practiceOffer(
            sitting.services,
            panelReports,
            sitting.logs,
            { uri, plan: true },
            neverStopped,
          );
          if ('message' in offer) throw new Error(offer.message);
          expect(listedKinds(offer.techniques), 'offer').toEqual(wanted);
          if (offer.next) expect(wanted).toMatchObject(listedKinds([offer.next]));
          // The practice set comes first, and of it what is to work on again.
          const groups = offer.techniques.map(({ standing }) => ['learning', 'again'].indexOf(standing));
          expect(groups).toEqual([...groups].sort((a, b) => b - a));
          sitting.end();
        }),
        // The same projects in every run of the tests; more of them with ROUTEWRIGHT_PROJECTS.
        { numRuns: count, examples: seeds, seed: 2026 },
      );
    },
    limit,
  );

  afterAll(() => expect([...seen].sort()).toEqual([...kinds].sort()));
});

import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import { readFileSync } from 'node:fs';
import { ResponseError, type TextDocumentEdit, type WorkspaceEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { codeActionProvider } from '../../../../server/src/lsp/actions/codeActions.ts';
import { formattingProvider } from '../../../../server/src/lsp/editing/formatting.ts';
import { rankHandler } from '../../../../server/src/lsp/requests/rank.ts';
import { renameProvider } from '../../../../server/src/lsp/editing/rename.ts';
import { keysAndValues } from '../../../../server/src/lsp/editing/identifiers.ts';
import { symbolsIn } from '../../../../server/src/lsp/editing/occurrences.ts';
import { rankJson } from '../../../../server/src/reports/rank/rankJson.ts';
import { runnerFilesOf } from '../../../../server/src/workspace/runnerFiles.ts';
import { neverStopped, openEditor, uriOf, type Editor } from '../editor.ts';
import { outcome } from '../everyFeature.ts';
import { fileAt } from '../../../../server/src/lsp/documents/fileServices.ts';

type Texts = Readonly<Record<string, string>>;

const route = 'lanternfall.route.yaml';
const today = '2026-11-09';
const sample: Texts = Object.fromEntries(
  ['route', 'practice', 'runs', 'week'].map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [name, readFileSync(new URL(`../../../../samples/${name}`, import.meta.url), 'utf8')];
  }),
);

const options = { tabSize: 2, insertSpaces: true };

/** Opens the files with the route in front, in an editor that can do everything. */
async function opened(files: Texts): Promise<Editor> {
  const editor = await openEditor({ [route]: files[route]!, ...files }, { today });
  Object.assign(editor.client, { createsFiles: true, appliesEdits: true });
  return editor;
}

/** What `check` finds, by code, and what `rank --json` prints. */
interface Said {
  readonly findings: readonly string[];
  readonly ranking: unknown;
}

function findingsIn({ services }: Editor, files: Texts): string[] {
  for (const project of services.workspace.groups().projects) Array.from(services.findings.forecast(project));
  services.findings.checkAll();
  const codes = Object.keys(files).flatMap((name) =>
    services.findings.of(uriOf(name)).map(({ code }) => code),
  );
  return codes.sort();
}

function saidIn(editor: Editor, files: Texts): Said {
  const findings = findingsIn(editor, files);
  const { report, message } = runToCompletion(rankHandler(editor.services)({ uri: editor.uri, all: true }));
  if (!report) throw new Error(message);
  return { findings, ranking: rankJson(report) };
}

/** What the model is asked: where it is the same, so is every answer. */
function questionIn({ services }: Editor): unknown {
  const [project] = services.workspace.groups().projects;
  const own = runnerFilesOf(project!);
  if ('runners' in own) throw new Error('the logs are of several runners');
  const { route, logs, asOfDay, options, constants } = runToCompletion(
    services.estimates.modelInput(project!, own),
  );
  return JSON.parse(JSON.stringify({ asked: route, logs, asOfDay, chosen: options, constants }));
}

/** The files after formatting each of them. */
function tidiedIn({ services }: Editor, files: Texts): Texts {
  const tidy = Object.keys(files).map((name) => {
    const edits = formattingProvider(services)({ textDocument: { uri: uriOf(name) }, options });
    const document = TextDocument.create(uriOf(name), 'x', 1, files[name]!);
    return [name, TextDocument.applyEdits(document, edits)];
  });
  return Object.fromEntries(tidy) as Texts;
}

/** Looks at the files in a session of their own, which is over then. */
async function lookAt<T>(files: Texts, look: (editor: Editor, files: Texts) => T): Promise<T> {
  const editor = await opened(files);
  try {
    return look(editor, files);
  } finally {
    editor.services.checks.dispose();
  }
}

const said = (files: Texts): Promise<Said> => lookAt(files, saidIn);
const question = (files: Texts): Promise<unknown> => lookAt(files, questionIn);
const tidied = (files: Texts): Promise<Texts> => lookAt(files, tidiedIn);

function after({ services }: Editor, files: Texts, edit: WorkspaceEdit): Texts {
  const changed = outcome(edit, (uri) => fileAt(services.workspace, uri)?.reading.text);
  const named = [...changed].map(([uri, text]) => [uri.slice(uriOf('').length), text]);
  return { ...files, ...(Object.fromEntries(named) as Texts) };
}

let untouched: Said;

beforeAll(async () => {
  untouched = await said(sample);
});

describe('renaming in the sample', () => {
  const ids = async (): Promise<{ thing: string; id: string; offset: number }[]> => {
    const { services, uri } = await opened(sample);
    const symbols = [...symbolsIn(fileAt(services.workspace, uri)!)].filter(({ defines }) => defines);
    services.checks.dispose();
    return symbols.map(({ entityKind: thing, id, span }) => ({ thing, id, offset: span.start }));
  };

  it('leaves the findings as they are and the ranking too, for every id that it defines', async () => {
    const all = await ids();
    const count = (thing: string) => all.filter((one) => one.thing === thing).length;
    expect(count('technique')).toBe(sample[route]!.match(/^ {4}difficulty:/gm)!.length);
    expect(count('segment')).toBe(sample[route]!.match(/^ {2}- id:/gm)!.length);
    const asked = await question(sample);
    // Of some techniques, the answer is looked at as well: it takes seconds.
    const techniques = all.filter(({ thing }) => thing === 'technique');
    const answered = new Set([techniques[0]!.id, techniques.at(-1)!.id]);
    // A session that is only asked stays as it is, for all of the ids.
    const editor = await opened(sample);
    const document = TextDocument.create(uriOf(route), 'x', 1, sample[route]!);
    for (const { thing, id, offset } of all) {
      // Another place in the alphabet: an order by id alone would show.
      const newName = `${id < 'm' ? 'z' : 'a'}-${id}`;
      const position = document.positionAt(offset);
      const edit = await renameProvider(editor.services)({
        textDocument: { uri: uriOf(route) },
        position,
        newName,
      });
      if (!edit || edit instanceof ResponseError) throw new Error(`${id}: ${edit?.message ?? 'nothing'}`);
      const files = after(editor, sample, edit);
      const logs = Object.keys(sample).filter((name) => name !== route);
      const word = new RegExp(`(?<![\\w-])${id}(?![\\w-])`, 'g');
      for (const name of logs) {
        const code = (text: string) => text.replace(/#.*/g, '');
        if (thing !== 'use') expect(code(files[name]!).match(word), `${id} in ${name}`).toBeNull();
      }
      await lookAt(files, (renamed) => {
        // Where the model is asked the same, it answers the same: whatever the names are (model/invariance.test.ts).
        expect(questionIn(renamed), id).toEqual(renamedIn(asked, id, newName));
        if (answered.has(id)) {
          const expected = renamedIn(untouched, id, newName);
          expect(byTechnique(saidIn(renamed, files)), id).toEqual(byTechnique(expected));
        }
        expect(tidiedIn(renamed, files), id).toEqual(files);
      });
    }
    editor.services.checks.dispose();
  });
});

/** The same under another id, in sentences too. */
function renamedIn<T>(before: T, id: string, newName: string): T {
  return JSON.parse(
    JSON.stringify(before).replace(new RegExp(`(?<![\\w-])${id}(?![\\w-])`, 'g'), newName),
  ) as T;
}

/** What is left out of a ranking stands in order of the ids: a new id, another order. */
function byTechnique({ findings, ranking }: Said): unknown {
  type Named = readonly { readonly technique: string }[];
  const { skipped, standings, ...rest } = ranking as { skipped: Named; standings: Named };
  const sorted = (list: Named): Named => [...list].sort((a, b) => (a.technique < b.technique ? -1 : 1));
  return { findings, ...rest, skipped: sorted(skipped), standings: sorted(standings) };
}

describe('formatting the sample', () => {
  it('changes nothing, and where it was written otherwise brings it back', async () => {
    expect(await tidied(sample)).toEqual(sample);
    const untidy = Object.fromEntries(
      Object.entries(sample).map(([name, text]) => [name, text.replace(/^( *)(\w+): (?=\d)/gm, '$1$2:    ')]),
    );
    expect(untidy).not.toEqual(sample);
    expect(await question(untidy)).toEqual(await question(sample));
    expect(await tidied(untidy)).toEqual(sample);
  });
});

/** Actions whose purpose is to change a number, with what it is that they change. */
const meantToChange: readonly (readonly [RegExp, string])[] = [
  [
    /^(Put .* (in the run|aside)|Take up .*|Take .* out of the run to practise it|Swap .* for .*)$/,
    'a state says what is tried in runs',
  ],
  [/^Move this use to a spot of its own/, 'uses of one spot exclude each other; apart they do not'],
  [/^Fill in `practice` from the log/, 'the cycle says how many attempts an hour holds'],
];

interface Offer {
  readonly title: string;
  readonly edit: WorkspaceEdit;
}

/** What the light bulb offers at any word of the sample, each once. */
async function everyOffer(): Promise<{ editor: Editor; offers: readonly Offer[] }> {
  const editor = await opened(sample);
  const offers = new Map<string, Offer>();
  for (const name of Object.keys(sample)) {
    const { uri, reading } = fileAt(editor.services.workspace, uriOf(name))!;
    const document = TextDocument.create(uri, 'x', 1, sample[name]!);
    for (const { span } of keysAndValues(reading.tree, [], 0)) {
      const position = document.positionAt(span.start);
      const range = { start: position, end: position };
      const context = { diagnostics: [] };
      for (const { title, edit } of await codeActionProvider(editor.services)(
        {
          textDocument: { uri },
          range,
          context,
        },
        neverStopped,
      ))
        offers.set(`${title} ${JSON.stringify(edit)}`, { title, edit: edit! });
    }
  }
  return { editor, offers: [...offers.values()] };
}

/** The edits of each file as one. */
function together({ documentChanges = [] }: WorkspaceEdit): WorkspaceEdit {
  const changes = documentChanges.filter((change): change is TextDocumentEdit => 'edits' in change);
  const uris = [...new Set(changes.map(({ textDocument }) => textDocument.uri))];
  return {
    documentChanges: uris.map((uri) => ({
      textDocument: { uri, version: null },
      edits: changes.filter(({ textDocument }) => textDocument.uri === uri).flatMap(({ edits }) => edits),
    })),
  };
}

describe('the light bulb in the sample', () => {
  let editor: Editor;
  let offers: readonly Offer[];
  beforeAll(async () => {
    ({ editor, offers } = await everyOffer());
  });
  afterAll(() => editor.services.checks.dispose());

  it('leaves findings and ranking as they are, unless a number is what it is for', async () => {
    const isMeant = ({ title }: Offer) => meantToChange.some(([pattern]) => pattern.test(title));
    const kept = offers.filter((offer) => !isMeant(offer));
    expect(kept.length).toBeGreaterThan(20);
    expect(offers.length - kept.length).toBeGreaterThan(20);
    const asked = await question(sample);
    for (const { title, edit } of kept)
      expect(await question(after(editor, sample, edit)), title).toEqual(asked);
    // Each has a place of its own, so that all of them can be taken at once.
    const all = { documentChanges: kept.flatMap(({ edit }) => edit.documentChanges ?? []) };
    expect(await said(after(editor, sample, together(all)))).toEqual(untouched);
  });

  it('leaves the findings no worse where a number is what it is for', async () => {
    for (const [pattern] of meantToChange.slice(1))
      for (const { title, edit } of offers.filter((offer) => pattern.test(offer.title)))
        expect(await lookAt(after(editor, sample, edit), findingsIn), title).toEqual(untouched.findings);
  });
});

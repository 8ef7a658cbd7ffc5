import { runToCompletion } from '../../server/src/incremental/steps.ts';
import type { Range } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { applyEdits } from '../../server/src/files/edit/textEdit.ts';
import { formatEdits } from '../../server/src/files/edit/formatEdits.ts';
import type { FileKind } from '../../server/src/files/fileKind.ts';
import { buildPracticeDocument, buildRunsDocument } from '../../server/src/files/documents/logDocuments.ts';
import { buildPoolDocument } from '../../server/src/files/documents/poolDocument.ts';
import { readSource, type Reading } from '../../server/src/files/reading/reading.ts';
import { buildRouteDocument } from '../../server/src/files/documents/routeDocument.ts';
import type { Tree } from '../../server/src/files/yaml/tree.ts';
import { buildWeekDocument } from '../../server/src/files/documents/weekDocument.ts';
import { rankHandler } from '../../server/src/lsp/requests/rank.ts';
import type { Chance } from '../arena/random.ts';
import { askAt, askOfFile, fits, outcome } from '../unit/lsp/everyFeature.ts';
import { openEditor, uriOf } from '../unit/lsp/editor.ts';
import { small, type Input } from './seeds.ts';
import { fileAt } from '../../server/src/lsp/documents/fileServices.ts';

/** Reads a file; a test may put a broken one in its place. */
export type Reader = typeof readSource;

/** Throws what is wrong, as a finding of the fuzzer. */
function demand(holds: boolean, what: string): asserts holds {
  if (!holds) throw new Error(what);
}

const documentOf: Readonly<Record<FileKind, (reading: Reading) => unknown>> = {
  route: buildRouteDocument,
  practice: buildPracticeDocument,
  runs: buildRunsDocument,
  week: buildWeekDocument,
  pool: buildPoolDocument,
};

/**
 * Reads a text, then what an edit makes of it, and demands what every reading promises: it does not throw, problems lie
 * in the text and in order, reading on gives what reading anew gives, and formatting changes nothing that is said.
 *
 * @returns what was seen, in words by which inputs that show something new are told
 */
export function probeReader({ kind, text }: Input, next: string, reader: Reader = readSource): string[] {
  const first = reader(kind, text);
  placesFit(first);
  const on = reader(kind, next, first);
  const anew = reader(kind, next);
  const told = ({ value, problems }: Reading): string => JSON.stringify([value, problems]);
  demand(told(on) === told(anew), 'Reading on gives something else than reading anew.');
  documentOf[kind](anew);
  const edits = formatEdits(anew);
  if (edits.length > 0) {
    const formatted = reader(kind, applyEdits(next, edits));
    demand(formatEdits(formatted).length === 0, 'Formatting what was formatted changes it again.');
  }
  return seenIn(anew);
}

function placesFit({ problems, text }: Reading): void {
  let last = 0;
  for (const { code, start, end, related } of problems) {
    demand(
      start >= last && start <= end && end <= text.length,
      `The place of ${code} is ${start} to ${end}.`,
    );
    if (related) demand(related.start <= related.end && related.end <= text.length, `Place beside ${code}.`);
    last = start;
  }
}

/** Codes of problems, two by two, and shapes of the tree: a rough map of the ways that were taken. */
function seenIn({ kind, problems, tree, chunkedText: inParts }: Reading): string[] {
  const codes = [...new Set(problems.map(({ code }) => code))].sort();
  const seen = new Set<string>([`${kind} pieces ${Math.min(inParts?.chunks.length ?? 0, 6)}`]);
  codes.forEach((code, index) => {
    seen.add(`${kind} ${code} ${Math.ceil(Math.log2(problems.length + 1))}`);
    for (const other of codes.slice(index + 1)) seen.add(`${kind} ${code}+${other}`);
  });
  const walk = (node: Tree | undefined, path: string, depth: number): void => {
    if (!node || depth > 5) return;
    seen.add(`${kind} ${path}:${node.type}`);
    if (node.type === 'map')
      for (const { key, value } of node.entries.slice(0, 40))
        walk(value, `${path}.${depth < 2 ? key.value : '*'}`, depth + 1);
    if (node.type === 'list')
      for (const { value } of node.items.slice(0, 40)) walk(value, `${path}[]`, depth + 1);
  };
  walk(tree, '', 0);
  return [...seen].filter((one) => one.length < 120);
}

/** Small files of every kind, by name. */
const smallFiles: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries(small).map(([each, own]) => [`a.${each}.yaml`, own]),
);

/**
 * Opens a file beside good ones and asks every feature of it, at places by chance.
 *
 * @param options.ends whether it is also asked at the two ends of the text
 * @param options.ranks whether a ranking is asked for as well
 * @param options.files the good ones by name
 */
export async function probeFeatures(
  { kind, text }: Input,
  draw: Chance,
  { places = 4, ends = true, ranks = true, files: others = smallFiles } = {},
): Promise<string[]> {
  const name = `a.${kind}.yaml`;
  const files = { ...others, [name]: text };
  const { services, published } = await openEditor(files, { open: [name], today: '2026-10-12' });
  const uri = uriOf(name);
  const now = fileAt(services.workspace, uri)?.reading.text ?? '';
  const document = TextDocument.create(uri, 'routewright', 1, now);
  const textOf = (of: string): string | undefined => fileAt(services.workspace, of)?.reading.text;
  const documents = new Map<string, TextDocument>();
  const holds = (of: string, range: Range): boolean => {
    const whole = textOf(of);
    if (whole === undefined) return false;
    const known = documents.get(of) ?? TextDocument.create(of, 'routewright', 1, whole);
    documents.set(of, known);
    return fits(known, range);
  };
  const check = ({ ranges, edits }: Awaited<ReturnType<typeof askAt>>): void => {
    for (const { uri: of, range } of ranges)
      demand(holds(of, range), `${JSON.stringify(range)} is no place of ${of}.`);
    for (const { edit } of edits) outcome(edit, textOf);
  };
  try {
    check(askOfFile(services, uri));
    const offsets = [
      ...(ends ? [0, now.length] : []),
      ...Array.from({ length: places }, () => draw.whole(0, now.length)),
    ];
    for (const offset of offsets) check(await askAt(services, uri, document.positionAt(offset)));
    if (ranks) runToCompletion(rankHandler(services)({ uri }));
    for (const { uri: of, diagnostics } of published)
      for (const { range, code } of diagnostics)
        demand(holds(of, range), `The place of ${code} is none of ${of}.`);
    const codes = published.flatMap(({ diagnostics }) => diagnostics.map(({ code }) => String(code)));
    return [...new Set(codes)].map((code) => `rule ${kind} ${code}`);
  } finally {
    services.checks.dispose();
  }
}

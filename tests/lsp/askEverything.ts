import type { LspClient } from './server.ts';
import { defaultObjective, panelViews } from '../../server/src/protocol/panel/views.ts';

const ofFile = [
  'textDocument/documentSymbol',
  'textDocument/documentLink',
  'textDocument/codeLens',
  'textDocument/foldingRange',
  'textDocument/semanticTokens/full',
];
const atPlace = [
  'textDocument/hover',
  'textDocument/completion',
  'textDocument/definition',
  'textDocument/documentHighlight',
  'textDocument/prepareRename',
  'textDocument/prepareCallHierarchy',
];
const ofRoute = ['rank', 'status', 'tonight', 'practiceOffer', 'starter'].map(
  (name) => `routewright/${name}`,
);
/** What the panel shows in each of its views, and that as Markdown. */
const ofPanel = ['routewright/panel', 'routewright/panelMarkdown'];

/** One request and how long its answer took, in seconds. */
export interface Asked {
  readonly method: string;
  readonly seconds: number;
  /** The answer as text; `''` where it was refused. */
  readonly answer: string;
}

/**
 * Sends every kind of request about a file that is open, at several places of each line, and gives what was answered.
 *
 * @param step characters between two places
 */
export async function askEverything(
  client: LspClient,
  uri: string,
  text: string,
  step: number,
): Promise<readonly Asked[]> {
  const asked: Asked[] = [];
  const ask = async (method: string, params: object): Promise<void> => {
    const began = performance.now();
    const answer = await client.request(method, params).then(
      (found) => JSON.stringify(found ?? null),
      () => '',
    );
    asked.push({ method, seconds: (performance.now() - began) / 1000, answer });
  };
  const textDocument = { uri };
  const lines = text.split('\n');
  const range = { start: { line: 0, character: 0 }, end: { line: lines.length, character: 0 } };
  for (const method of ofFile) await ask(method, { textDocument });
  await ask('textDocument/inlayHint', { textDocument, range });
  await ask('textDocument/codeAction', { textDocument, range, context: { diagnostics: [] } });
  await ask('textDocument/formatting', { textDocument, options: { tabSize: 2, insertSpaces: true } });
  await ask('workspace/symbol', { query: '' });
  for (const [line, content] of lines.entries())
    for (let character = 0; character <= content.length; character += step) {
      const at = { textDocument, position: { line, character } };
      for (const method of atPlace) await ask(method, at);
      await ask('textDocument/references', { ...at, context: { includeDeclaration: true } });
    }
  for (const method of ofRoute) await ask(method, { uri });
  for (const method of ofPanel)
    for (const view of panelViews)
      await ask(method, {
        uri,
        view,
        technique: null,
        compared: { uri },
        objective: defaultObjective,
        wait: true,
      });
  return asked;
}

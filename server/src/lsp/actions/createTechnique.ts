import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { yieldsValue } from '../../files/edit/intendedEffect.ts';
import { lineEnd, lineEndingOf } from '../../files/edit/lines.ts';
import { insertion, type TextEdit } from '../../files/edit/textEdit.ts';
import { isId } from '../../files/schema/ids.ts';
import { entryOf } from '../../files/yaml/tree.ts';
import { toValue } from '../../files/yaml/value.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';
import type { RouteFile } from '../../workspace/project.ts';
import { diagnosticOf } from '../checking/diagnostics.ts';
import { symbolAt } from '../editing/occurrences.ts';
import { workspaceEdit } from '../documents/workspaceEdit.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

/** The numbers of a new technique until the runner knows better; a comment says that these are guesses. */
const guessedNumbers = { difficulty: 5, saves: 1, loses: 1 };

/** Defines, in the route, a technique that is used but not defined. */
export function createTechnique({ services, file, project, findings }: ActionContext): CodeAction[] {
  if (!project) return [];
  const unknown = findings.filter(({ code }) => code === 'unknown-technique');
  return unknown.flatMap((finding) => {
    const id = symbolAt(file, finding.start)?.id;
    if (id === undefined || !isId(id)) return [];
    const edit = newTechnique(project.route, id);
    if (!edit) return [];
    const { uri } = project.route;
    return [
      codeAction(
        `Define \`${sanitizeForTerminal(id)}\` in the route`,
        CodeActionKind.QuickFix,
        workspaceEdit(services, [{ uri, ...edit }]),
        { diagnostics: [diagnosticOf(finding, services.positions, services.documents)] },
      ),
    ];
  });
}

function newTechnique({ reading }: RouteFile, id: string): TextEdit | undefined {
  const { text, tree } = reading;
  const eol = lineEndingOf(text);
  const entry = entryOf(tree, 'techniques');
  const value = entry?.value;
  const before = toValue(tree) as Record<string, unknown>;
  const listed = (before.techniques ?? {}) as Record<string, unknown>;
  const wanted = { ...before, techniques: { ...listed, [id]: guessedNumbers } };
  const lines = (indent: string) =>
    [
      `${indent}${id}: # a guess: correct these numbers`,
      ...Object.entries(guessedNumbers).map(([key, number]) => `${indent}  ${key}: ${number}`),
    ].join(eol);
  const candidates: TextEdit[] = [];
  if (!entry) {
    const newline = text === '' || text.endsWith('\n') ? '' : eol;
    candidates.push(insertion(text.length, `${newline}techniques:${eol}${lines('  ')}${eol}`));
  } else if (!value) {
    candidates.push(insertion(lineEnd(text, entry.key.end + entry.shift), eol + lines('  ')));
  } else if (value.type === 'map' && value.flow) {
    const last = value.entries.at(-1);
    const written = Object.entries(guessedNumbers).map(([key, number]) => `${key}: ${number}`);
    const inside = `${id}: { ${written.join(', ')} }`;
    candidates.push(
      last
        ? insertion((last.value ?? last.key).end + last.shift + entry.shift, `, ${inside}`)
        : { start: value.start + entry.shift, end: value.end + entry.shift, text: `{ ${inside} }` },
    );
  } else if (value.type === 'map') {
    const last = value.entries.at(-1)!;
    const first = value.entries[0]!.key.start + value.entries[0]!.shift + entry.shift;
    const indent = text.slice(text.lastIndexOf('\n', first - 1) + 1, first).replace(/\S/g, ' ');
    const end = (last.value ?? last.key).end + last.shift + entry.shift;
    const written = text.slice(0, end).trimEnd().length;
    for (const at of [written, end]) candidates.push(insertion(lineEnd(text, at), eol + lines(indent)));
  }
  return candidates.find((edit) => yieldsValue(reading, [edit], wanted));
}

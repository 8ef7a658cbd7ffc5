import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { entryToYaml, keyToYaml } from '../../files/edit/flowYaml.ts';
import { insertEntries } from '../../files/edit/insertEntries.ts';
import type { TextEdit } from '../../files/edit/textEdit.ts';
import { isId } from '../../files/schema/ids.ts';
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
  const written = Object.entries(guessedNumbers).map(([key, number]) => entryToYaml(key, number));
  const entry = {
    key: id,
    value: guessedNumbers,
    inline: entryToYaml(id, guessedNumbers),
    lines: [`${keyToYaml(id)}: # a guess: correct these numbers`, ...written.map((line) => `  ${line}`)],
  };
  return insertEntries(reading, 'techniques', [entry], 'braces');
}

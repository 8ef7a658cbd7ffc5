import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { lineEndingOf } from '../../files/edit/lines.ts';
import { isFullyRead } from '../../files/reading/fullyRead.ts';
import { needlessAllowance } from '../../rules/allowances.ts';
import { diagnosticOf } from '../checking/diagnostics.ts';
import { workspaceEdit } from '../documents/workspaceEdit.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

/**
 * Allows a finding by a comment above its line or at the top of the file. The runner must write the reason: until then
 * the comment says that a reason is missing.
 */
export function allowFinding({ services, file, findings }: ActionContext): CodeAction[] {
  const { text } = file.reading;
  // In a text that cannot be fully read, the comment could get into a wrong place.
  if (!isFullyRead(file.reading)) return [];
  const eol = lineEndingOf(text);
  const top = text.startsWith('\uFEFF') ? 1 : 0;
  return findings.flatMap((finding) => {
    const { code, severity, start } = finding;
    if (severity === 'error' || code === needlessAllowance.code) return [];
    const lineStart = Math.max(top, text.lastIndexOf('\n', start - 1) + 1);
    const indent = /^[ \t]*/.exec(text.slice(lineStart))![0];
    const diagnostics = [diagnosticOf(finding, services.positions, services.documents)];
    const offer = (title: string, at: number, written: string): CodeAction =>
      codeAction(
        title,
        CodeActionKind.QuickFix,
        workspaceEdit(services, [{ uri: file.uri, start: at, end: at, text: written }]),
        { diagnostics },
      );
    return [
      offer(`Allow \`${code}\` here, with a reason`, lineStart, `${indent}# allow ${code}: ${eol}`),
      offer(`Allow \`${code}\` in this file, with a reason`, top, `# allow ${code} in this file: ${eol}`),
    ];
  });
}

import { CodeActionKind, type CodeAction, type CodeActionParams } from 'vscode-languageserver';
import { diagnosticOf } from './diagnostics.ts';
import type { Session } from './session.ts';

/** The fixes of the findings that a selection touches. */
export function codeActions(
  session: Session,
  { textDocument, range, context }: CodeActionParams,
): CodeAction[] {
  const file = session.file(textDocument.uri);
  if (!file) return [];
  if (context.only && !context.only.some((kind) => CodeActionKind.QuickFix.startsWith(kind))) return [];
  const { places, documents } = session;
  const from = places.offset(file.uri, range.start);
  const to = places.offset(file.uri, range.end);
  return session.findings.of(file.uri).flatMap((finding): CodeAction[] => {
    const { fix } = finding;
    if (!fix || finding.start > to || finding.end < from) return [];
    const edit = { range: places.range(fix.uri, fix), newText: fix.text };
    const version = documents.version(fix.uri) ?? null;
    return [
      {
        title: fix.title,
        kind: CodeActionKind.QuickFix,
        diagnostics: [diagnosticOf(finding, places, documents)],
        isPreferred: true,
        edit: {
          documentChanges: [{ textDocument: { uri: documents.spelling(fix.uri), version }, edits: [edit] }],
        },
      },
    ];
  });
}

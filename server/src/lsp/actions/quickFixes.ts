import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { applyEdits } from '../../files/edit/textEdit.ts';
import { readSource } from '../../files/reading/reading.ts';
import type { Finding } from '../../rules/engine/findings.ts';
import type { ProjectFile } from '../../workspace/project.ts';
import { fixAllKind } from './codeActionKinds.ts';
import { diagnosticOf } from '../checking/diagnostics.ts';
import type { FindingStore } from '../checking/findingStore.ts';
import { workspaceEdit } from '../documents/workspaceEdit.ts';
import { codeAction, type ActionContext, type ActionServices } from './actionContext.ts';

type Fix = NonNullable<Finding['fix']>;

/** The fixes of the findings in a selection. */
export function quickFixes({ services, findings }: ActionContext): CodeAction[] {
  const { positions, documents } = services;
  return findings.flatMap((finding) => {
    const { fix } = finding;
    if (!fix) return [];
    return [
      codeAction(fix.title, CodeActionKind.QuickFix, workspaceEdit(services, [fix]), {
        diagnostics: [diagnosticOf(finding, positions, documents)],
        isPreferred: !fix.onRequest,
      }),
    ];
  });
}

/** One action with all fixes of a file that change only this file and do not overlap. */
export function fixAll(
  services: ActionServices & { readonly findings: FindingStore },
  file: ProjectFile,
): CodeAction | undefined {
  const fixes = services.findings
    .of(file.uri)
    .flatMap(({ fix }) => (fix?.uri === file.uri && !fix.onRequest ? [fix] : []));
  const chosen: Fix[] = [];
  for (const fix of [...fixes].sort((a, b) => a.start - b.start || a.end - b.end)) {
    const last = chosen.at(-1);
    const apart = !last || fix.start > last.end || (fix.start === last.end && last.end > last.start);
    if (apart) chosen.push(fix);
  }
  // A fix that does not fit together with the others waits for the next time.
  while (chosen.length > 0 && addsProblems(file, chosen)) chosen.pop();
  if (chosen.length === 0) return undefined;
  return codeAction('Fix all that can be fixed', fixAllKind, workspaceEdit(services, chosen));
}

function addsProblems({ reading }: ProjectFile, fixes: readonly Fix[]): boolean {
  const text = applyEdits(reading.text, fixes);
  return readSource(reading.kind, text, reading).problems.length > reading.problems.length;
}

import { workspace, type Disposable } from 'vscode';

/** By code: the severity set for what is found, or `off`. The server passes over what makes no sense. */
export function ruleSettings(): Readonly<Record<string, string>> {
  // The editor hands out a proxy, which cannot be sent to the server's thread.
  return { ...workspace.getConfiguration('routewright').get<Record<string, string>>('rules') };
}

/** Tells the settings whenever they change. */
export function watchRules(tell: (rules: Readonly<Record<string, string>>) => Promise<void>): Disposable {
  return workspace.onDidChangeConfiguration((event) => {
    if (event.affectsConfiguration('routewright.rules')) void tell(ruleSettings());
  });
}

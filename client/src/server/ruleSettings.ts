import { workspace, type Disposable } from 'vscode';

/**
 * By a finding's code: the severity that the person has set for it, or `off`. The server ignores entries that are not
 * valid.
 */
export function ruleSettings(): Readonly<Record<string, string>> {
  // The editor returns a proxy, which cannot be sent to the server's thread.
  return { ...workspace.getConfiguration('routewright').get<Record<string, string>>('rules') };
}

/** Passes the settings to `tell` whenever they change. */
export function watchRules(tell: (rules: Readonly<Record<string, string>>) => Promise<void>): Disposable {
  return workspace.onDidChangeConfiguration((event) => {
    if (event.affectsConfiguration('routewright.rules')) void tell(ruleSettings());
  });
}

import { commands, env, languages, UIKind, version, window, workspace } from 'vscode';
import type { Disposable, ExtensionContext } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { ServerErrorHandler } from './serverErrorHandler.ts';
import { redactLogEntry } from './redact.ts';
import { isRoutewrightDocument } from '../editor/selector.ts';
import type { LogEntry, ServerLog } from './serverLog.ts';
import { countedBy, differingSettings, type SettingShape } from './reportParts.ts';

interface Manifest {
  readonly version: string;
  readonly contributes: {
    readonly configuration: { readonly properties: Readonly<Record<string, SettingShape>> };
  };
}

/** Where the report's information comes from. */
export interface ReportSources {
  readonly client: BaseLanguageClient;
  readonly context: ExtensionContext;
  readonly crashes: ServerErrorHandler;
  readonly log: ServerLog;
}

/** Registers the command Gather a Bug Report, which opens the report as a document that is not saved anywhere. */
export function registerBugReportCommand(sources: ReportSources): Disposable {
  return commands.registerCommand('routewright.gatherBugReport', async () => {
    const content = bugReport(sources);
    await window.showTextDocument(await workspace.openTextDocument({ language: 'markdown', content }));
  });
}

/** The report as Markdown. It holds no name and no content of any file. */
function bugReport({ client, context, crashes, log }: ReportSources): string {
  const manifest = context.extension.packageJSON as Manifest;
  const settings = differingSettings(manifest.contributes.configuration.properties, (name) => {
    const found = workspace.getConfiguration().inspect(name);
    return found?.workspaceFolderValue ?? found?.workspaceValue ?? found?.globalValue;
  });
  return [
    '# Routewright: bug report',
    '',
    'Nothing was sent. Read this, add to it, take out what you would rather keep, and send it yourself. It holds no',
    'names and no contents of your files.',
    '',
    '## What happened',
    '',
    'What I did:',
    '',
    'What I expected:',
    '',
    'What came instead:',
    '',
    '## Versions',
    '',
    ...versions(manifest.version),
    '',
    '## Settings that differ from the usual',
    '',
    ...(settings.length > 0 ? settings.map((line) => `- ${line}`) : ['None.']),
    '',
    '## Counts',
    '',
    ...counts(),
    `- server: ${client.isRunning() ? 'running' : 'stopped'}, ended by itself ${crashes.count} times since the start`,
    '',
    '## Last entries of the log, without names and contents',
    '',
    '```text',
    ...logLines(log.entries()),
    '```',
    '',
  ].join('\n');
}

function versions(own: string): string[] {
  const {
    platform,
    arch,
    versions: node,
  } = (globalThis as { process?: Partial<NodeJS.Process> }).process ?? {};
  const where = env.uiKind === UIKind.Web ? 'in a browser' : 'on the desktop';
  return [
    `- Routewright ${own}`,
    `- VS Code ${version}, ${where}${env.remoteName === undefined ? '' : ', with a remote'}`,
    `- ${platform === undefined ? 'web worker' : `${platform} ${arch}, Node ${node?.node}`}`,
    `- folder ${workspace.isTrusted ? 'trusted' : 'not trusted'}, language ${env.language}`,
  ];
}

/** Counts of the open documents by kind of file, and of the findings by code: all words are the extension's own. */
function counts(): string[] {
  const open = workspace.textDocuments.filter(isRoutewrightDocument);
  const kinds = countedBy(
    open,
    ({ uri }) => /\.(route|practice|runs|week|pool)\.ya?ml$/.exec(uri.path)?.[1] ?? 'other',
  );
  const lines = open.reduce((sum, { lineCount }) => sum + lineCount, 0);
  const found = languages.getDiagnostics().flatMap(([, diagnostics]) => diagnostics);
  const codes = countedBy(
    found.filter(({ source }) => source === 'routewright'),
    ({ code }) => (typeof code === 'object' ? String(code.value) : String(code)),
  );
  return [
    `- folders open: ${workspace.workspaceFolders?.length ?? 0}`,
    `- files open: ${kinds}; ${lines} lines together`,
    `- findings: ${codes}`,
  ];
}

function logLines(entries: readonly LogEntry[]): string[] {
  if (entries.length === 0) return ['Nothing was written.'];
  return entries.map(({ at, level, text }) => {
    // The time of day is private; seconds before now are enough.
    const seconds = Math.round((Date.now() - at) / 1000);
    return `${seconds} s ago, ${level}: ${redactLogEntry(text)}`;
  });
}

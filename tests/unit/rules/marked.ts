import { expect } from 'vitest';
import { forecastFindings } from '../../../server/src/rules/checkProject.ts';
import type { Finding } from '../../../server/src/rules/engine/findings.ts';
import type { Assessment } from '../../../server/src/model/core/results.ts';
import { contextOf, findingsOf, folder, workspaceOf, type Files, type Options } from './findingsOf.ts';

export { contextOf, findingsOf, workspaceOf, type Files, type Options };

/** A route of one segment and one technique, with which a log can be right. */
export const plainRoute = `game: Lanternfall
category: any%
restart: 14
segments:
  - id: harbor
    time: 1:30
    techniques: [crate-vault]
techniques:
  crate-vault: { difficulty: 3, saves: 3, loses: 1, practice: { attempt: 4, reload: 1 } }
`;

/** Findings of the slow rules, given what the model would say. */
export async function forecastsOf(
  files: Files,
  assessment: ReadonlyMap<string, Assessment>,
  options: Options = {},
): Promise<Finding[]> {
  const workspace = await workspaceOf(files);
  const readings = (uri: string) => workspace.file(uri)?.reading;
  return workspace
    .groups()
    .projects.flatMap((project) => forecastFindings(contextOf(project, options), assessment, readings));
}

/**
 * Expects findings of one code at exactly the marked places, and of no other code anywhere.
 *
 * @returns the findings, in the order of files and places
 */
export async function expectMarked(files: Files, code: string, options: Options = {}): Promise<Finding[]> {
  const { texts, marks } = unmarked(files);
  const findings = await findingsOf(texts, options);
  expectAt(findings, marks, code);
  return findings;
}

/** The same for the slow rules. */
export async function expectMarkedForecast(
  files: Files,
  code: string,
  assessment: ReadonlyMap<string, Assessment>,
  options: Options = {},
): Promise<Finding[]> {
  const { texts, marks } = unmarked(files);
  const findings = await forecastsOf(texts, assessment, options);
  expectAt(findings, marks, code);
  return findings;
}

/** The files after every fix was applied, each file from its end on. */
export async function fixed(files: Files, options: Options = {}): Promise<Record<string, string>> {
  const { texts } = unmarked(files);
  const findings = await findingsOf(texts, options);
  const fixes = findings.flatMap(({ fix }) => fix ?? []).sort((a, b) => b.start - a.start);
  const result: Record<string, string> = { ...texts };
  for (const { uri, start, end, text } of fixes) {
    const name = uri.slice(folder.length + 1);
    result[name] = result[name]!.slice(0, start) + text + result[name]!.slice(end);
  }
  return result;
}

/** The text that a finding, or a place related to it, underlines. */
export function underlined(
  files: Files,
  { uri, start, end }: { uri: string; start: number; end: number },
): string {
  return `${uri.slice(folder.length + 1)}: ${unmarked(files).texts[uri.slice(folder.length + 1)]!.slice(start, end)}`;
}

interface Mark {
  readonly uri: string;
  readonly start: number;
  readonly end: number;
}

function expectAt(findings: readonly Finding[], marks: readonly Mark[], code: string): void {
  const found = findings.map(({ uri, start, end, code, message }) => ({ uri, start, end, code, message }));
  expect(found).toEqual(marks.map((mark) => ({ ...mark, code, message: expect.any(String) as string })));
  for (const { message } of findings) expect(message).toMatch(/[.?]$/);
}

function unmarked(files: Files): { texts: Record<string, string>; marks: Mark[] } {
  const texts: Record<string, string> = {};
  const marks: Mark[] = [];
  for (const name of Object.keys(files).sort()) {
    let text = '';
    let start = 0;
    for (const part of files[name]!.split(/([⟦⟧])/)) {
      if (part === '⟦') start = text.length;
      else if (part === '⟧') marks.push({ uri: `${folder}/${name}`, start, end: text.length });
      else text += part;
    }
    texts[name] = text;
  }
  return { texts, marks };
}

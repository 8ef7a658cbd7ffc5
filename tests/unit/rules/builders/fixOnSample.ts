import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { findingsIn, uriOf, workspaceWith } from '../../../../schemas/exampleFindings.ts';
import { rank } from '../../../../server/src/model/index.ts';
import { buildModelInput } from '../../../../server/src/queries/modelInput.ts';
import { exampleFiles } from '../../../../server/src/rules/engine/exampleFiles.ts';
import type { FileKind } from '../../../../server/src/files/fileKind.ts';
import type { Finding } from '../../../../server/src/rules/engine/findings.ts';
import { findingDocs } from '../../../../server/src/rules/findingDocs.ts';
import { runnerFilesOf } from '../../../../server/src/workspace/runnerFiles.ts';
import { answerDayOf } from '../../../../server/src/queries/answerDay.ts';
import { sampleText } from '../../../helpers/poolFiles.ts';
import { lastDay } from '../../../helpers/lastDay.ts';

type Texts = Readonly<Record<string, string>>;

/** The sample's four files, texts by name. */
export const sample: Texts = Object.fromEntries(
  ['route', 'practice', 'runs', 'week'].map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [name, readFileSync(new URL(`../../../../samples/${name}`, import.meta.url), 'utf8')];
  }),
);

/** A slip put into the sample. */
export interface Slip {
  readonly file: FileKind;
  readonly from: string;
  readonly to: string;
}

interface Expected {
  /** Whether the fix gives back the very text that stood there. */
  readonly restores?: true;
  /** For a fix of what counts in any case: it changes what is written, and no number of the ranking. */
  readonly changesNoNumber?: true;
}

/**
 * Tests the fix of a rule on the whole sample: with each slip in it the rule finds something, and after the fix the
 * rule finds nothing more and no other rule more than before. A slip in a pool brings the pool along. Every rule with a fix has such a call in its test file.
 */
export function describeFixOnSample(code: string, slips: readonly Slip[], expected: Expected = {}): void {
  describe(`the fix of ${code}`, () => {
    it.each(slips)(
      'leaves check no worse on the sample, in the $file file',
      async ({ file, from, to }) => {
        const name = `lanternfall.${file}.yaml`;
        const text = sample[name] ?? sampleText(file);
        expect(text).toContain(from);
        const files = { ...sample, [name]: text.replace(from, to) };
        const before = await findingsIn(files);
        expect(before.map((finding) => finding.code)).toContain(code);
        const after = mended(files, before, code);
        expect(after).not.toEqual(files);
        const left = await findingsIn(after);
        expectNoWorse(before, await withoutOwn(left));
        expect(left.map((finding) => finding.code)).not.toContain(code);
        if (expected.restores) expect(after).toEqual(sample);
        if (expected.changesNoNumber) expect(await ranking(after)).toEqual(await ranking(files));
      },
      60_000,
    );

    if (!expected.changesNoNumber) return;
    it('changes no number of its example', async () => {
      const { page } = findingDocs().find((one) => one.code === code)!;
      const files = exampleFiles(page.failing!);
      const after = mended(files, await findingsIn(files, page.today), code);
      expect(after).not.toEqual(files);
      expect(await ranking(after)).toEqual(await ranking(files));
    });
  });
}

let own: Promise<readonly Finding[]> | undefined;

/** Findings but for those of the untouched sample: a fix may bring back the text that has them. */
async function withoutOwn(findings: readonly Finding[]): Promise<readonly Finding[]> {
  const known = await (own ??= findingsIn(sample));
  return findings.filter(
    ({ code, message }) => !known.some((one) => one.code === code && one.message === message),
  );
}

/** The files after the fixes of one code, each file from its end on. */
export function mended(files: Texts, findings: readonly Finding[], code: string): Record<string, string> {
  const result: Record<string, string> = { ...files };
  const fixes = findings.flatMap((finding) => (finding.code === code ? (finding.fix ?? []) : []));
  for (const { uri, start, end, text } of fixes.sort((a, b) => b.start - a.start)) {
    const name = Object.keys(files).find((one) => uriOf(one) === uri)!;
    result[name] = result[name]!.slice(0, start) + text + result[name]!.slice(end);
  }
  return result;
}

/** What the ranking says, to the last digit: which technique, at what gain, and what is left out and why. */
export async function ranking(files: Texts): Promise<{ rows: readonly unknown[]; skipped: unknown }> {
  const [project] = (await workspaceWith(files)).groups().projects;
  const own = runnerFilesOf(project!);
  if ('runners' in own) throw new Error('the logs are of several runners');
  const { rows, skipped } = rank(buildModelInput(project!, own, { asOf: answerDayOf(own, lastDay).day }));
  return {
    rows: rows.map(({ technique, gainPerHour, hours, breakEven }) => ({
      technique,
      gainPerHour,
      hours,
      breakEven,
    })),
    skipped,
  };
}

const weight = { hint: 0, warning: 1, error: 2 } as const;

/** Expects that `after` has no code that `before` had not, and of each severity no more findings. */
export function expectNoWorse(before: readonly Finding[], after: readonly Finding[]): void {
  const known = new Set(before.map(({ code }) => code));
  expect(after.filter(({ code }) => !known.has(code)).map(({ code }) => code)).toEqual([]);
  for (const from of [0, 1, 2] as const) {
    const count = (list: readonly Finding[]) =>
      list.filter(({ severity }) => weight[severity] >= from).length;
    expect(count(after)).toBeLessThanOrEqual(count(before));
  }
}

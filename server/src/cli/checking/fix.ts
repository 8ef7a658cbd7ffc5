// Written by hand: a general library that applies edits does not know of files that have more problems afterwards, of
// links that lead out of the given folder, or of a file that changed in the meantime.
import { realpath } from 'node:fs/promises';
import { replaceText } from '../../disk/replaceText.ts';
import { systemReason } from '../../disk/systemReason.ts';
import { lineEndingOf } from '../../files/edit/lines.ts';
import { applyEdits } from '../../files/edit/textEdit.ts';
import type { Finding } from '../../rules/engine/findings.ts';
import { LineIndex, type Position } from '../../text/lineIndex.ts';
import type { LoadedFiles } from '../project/loadFiles.ts';
import type { Workspace } from '../../workspace/workspace.ts';
import { pathOf } from '../terminal/paths.ts';

type Fix = NonNullable<Finding['fix']>;

/** An edit that was applied. */
export interface AppliedFix {
  readonly uri: string;
  /** Its position, in the text at the time of the edit. */
  readonly at: Position;
  /** What it does, worded as a command: `Change to crate-vault`. */
  readonly title: string;
}

export interface FixResult {
  readonly mended: readonly AppliedFix[];
  /** Sentences about files that could not be written. */
  readonly failed: readonly string[];
  /** What a person has to see to in files that were written, in sentences. */
  readonly notices: readonly string[];
}

/** One edit may lead to the next finding; more rounds than these mean that edits undo each other. */
const maxPasses = 5;

/**
 * Applies the fixes of the findings, repeats this until there are no more fixes, and writes the changed files. Files
 * that were not given are not changed, and neither are files that a link leads to outside the given folders.
 *
 * @param find finds the findings again after each round
 */
export async function applyFixes(
  loaded: LoadedFiles,
  find: () => readonly Finding[] | Promise<readonly Finding[]>,
): Promise<FixResult> {
  const { workspace } = loaded;
  const before = new Map<string, string>();
  const mended: AppliedFix[] = [];
  const worsened = new Set<string>();
  for (let pass = 0; pass < maxPasses; pass++) {
    const fixes = (await find()).flatMap(({ fix }) => (fix && !fix.onRequest ? [fix] : []));
    const files = new Set(
      fixes.map(({ uri }) => uri).filter((uri) => loaded.isGiven(uri) && !worsened.has(uri)),
    );
    let changed = false;
    for (const uri of files) {
      const reading = workspace.file(uri)?.reading;
      if (!reading) continue;
      const chosen = nonOverlapping(fixes.filter((fix) => fix.uri === uri));
      const text = applyFixText(reading.text, chosen);
      if (text === reading.text) continue;
      workspace.edit(uri, text);
      if ((workspace.file(uri)?.reading.problems.length ?? 0) > reading.problems.length) {
        // The fix made the file worse: the finding is kept instead.
        workspace.edit(uri, reading.text);
        worsened.add(uri);
        continue;
      }
      if (!before.has(uri)) before.set(uri, reading.text);
      const index = new LineIndex(reading.text);
      mended.push(...chosen.map(({ start, title }) => ({ uri, at: index.positionAt(start), title })));
      changed = true;
    }
    if (!changed) break;
  }
  return writeChangedFiles(loaded, before, mended);
}

/** Fixes in order of position, without those that overlap an earlier one. */
function nonOverlapping(fixes: readonly Fix[]): Fix[] {
  const chosen: Fix[] = [];
  for (const fix of [...fixes].sort((a, b) => a.start - b.start || a.end - b.end)) {
    const last = chosen.at(-1);
    if (!last || fix.start > last.end || (fix.start === last.end && last.end > last.start)) chosen.push(fix);
  }
  return chosen;
}

/** The text with its fixes applied; new lines end in the same way as the lines of the file. */
function applyFixText(text: string, fixes: readonly Fix[]): string {
  const newline = lineEndingOf(text);
  return applyEdits(
    text,
    fixes.map((fix) => ({ ...fix, text: fix.text.replace(/\r?\n/g, newline) })),
  );
}

async function writeChangedFiles(
  { workspace }: LoadedFiles,
  before: ReadonlyMap<string, string>,
  mended: readonly AppliedFix[],
): Promise<FixResult> {
  const failed: string[] = [];
  const notices: string[] = [];
  const written = new Set<string>();
  for (const [uri, old] of before) {
    const text = workspace.file(uri)?.reading.text;
    if (text === undefined || text === old) continue;
    const problem = await writeOne(workspace, uri, old, text, notices);
    if (problem === undefined) {
      written.add(uri);
      continue;
    }
    failed.push(problem);
    // The report afterwards must be about the file on the disk.
    workspace.edit(uri, old);
  }
  return { mended: mended.filter(({ uri }) => written.has(uri)), failed, notices };
}

/**
 * @param notices gets what a person has to see to, in sentences
 * @returns a sentence where the file could not be written
 */
async function writeOne(
  workspace: Workspace,
  uri: string,
  old: string,
  text: string,
  notices: string[],
): Promise<string | undefined> {
  const path = pathOf(uri);
  const changed = `${path} is left as it is: something else changed it meanwhile. Run the command again.`;
  try {
    // A file that was replaced by a link out of the folder is not read again either.
    if ((await workspace.read(uri)) !== old) return changed;
    const done = await replaceText(await realpath(path), Buffer.from(old, 'utf8'), text);
    notices.push(...done.notices);
    return done.replaced ? undefined : changed;
  } catch (error) {
    return `${path} cannot be written: ${systemReason(error)}.`;
  }
}

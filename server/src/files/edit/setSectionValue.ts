import { isFullyRead } from '../reading/fullyRead.ts';
import type { Reading } from '../reading/reading.ts';
import { entryOf, locate, type MapTree } from '../yaml/tree.ts';
import { toValue } from '../yaml/value.ts';
import { keyToYaml } from './flowYaml.ts';
import { yieldsValue } from './intendedEffect.ts';
import { indentBefore, lineBreakAtEnd, lineEnd, lineEndingOf } from './lines.ts';
import { replaceScalar } from './replaceScalar.ts';
import { insertion, type TextEdit } from './textEdit.ts';

/**
 * The smallest edit that makes `section: { key: word }` hold in a file, with comments, order and quoting kept.
 *
 * @param section a top-level key with a map of words; it is added where it is missing
 * @returns undefined where the file is written in a way that no small edit is sure to fit: nothing is then changed
 */
export function setSectionValue(
  reading: Reading,
  section: string,
  key: string,
  word: string,
): TextEdit | undefined {
  if (!isFullyRead(reading)) return undefined;
  const edit = proposeEdit(reading, section, key, word);
  const before = toValue(reading.tree) as Readonly<Record<string, unknown>>;
  const words = before[section];
  const others = typeof words === 'object' && words !== null ? words : {};
  const wanted = { ...before, [section]: { ...others, [key]: word } };
  return edit && yieldsValue(reading, [edit], wanted, 'all') ? edit : undefined;
}

function proposeEdit(reading: Reading, section: string, key: string, word: string): TextEdit | undefined {
  const { text, tree } = reading;
  const eol = lineEndingOf(text);
  const written = `${keyToYaml(key)}: ${word}`;
  const entry = entryOf(tree, section);
  if (!entry) return newSection(text, tree, section, written, eol);
  const { value, shift } = entry;
  if (!value) return insertion(lineEnd(text, entry.key.end + shift), `${eol}  ${written}`);
  if (value.type !== 'map') return undefined;
  // In place of the word that stands there, in quotes where it had them.
  if (entryOf(value, key)) return replaceScalar(text, locate(tree, [section, key]), word);
  const [first] = value.entries;
  const last = value.entries.at(-1);
  if (!first || !last) return { start: value.start + shift, end: value.end + shift, text: `{ ${written} }` };
  const end = (last.value ?? last.key).end + shift + last.shift;
  if (value.flow) return insertion(end, `, ${written}`);
  const indent = indentBefore(text, first.key.start + first.shift + shift);
  return insertion(lineEnd(text, end), eol + indent + written);
}

function newSection(text: string, tree: MapTree, section: string, written: string, eol: string): TextEdit {
  const last = tree.entries.at(-1);
  if (tree.flow && last)
    return insertion((last.value ?? last.key).end + last.shift, `, ${section}: { ${written} }`);
  return insertion(text.length, `${lineBreakAtEnd(text)}${section}:${eol}  ${written}${eol}`);
}

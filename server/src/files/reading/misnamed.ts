/** Files whose name nearly says that they belong to a route. They are not read, and would be missing in silence. */
import { closestWord } from '../../text/closestWord.ts';
import { type FileKind, fileKindOf, fileKinds } from '../fileKind.ts';
import type { Problem } from '../yaml/problem.ts';

/** YAML by its ending, or by a mistyped one; a `.txt` behind it is what some editors add. */
const yamlEnding = /\.(?:ya?ml|yam|ymal|yalm)(?:\.txt)?$/i;

/** Characters of a text that are looked at. */
const looked = 20_000;

/**
 * What a file name may have been meant to be: `x.practice.yaml` for `x.practise.yaml`; undefined where it is far from
 * every name of ours, or is one.
 *
 * @param name without folders
 */
export function nearlyNamed(name: string): { readonly kind: FileKind; readonly wanted: string } | undefined {
  if (fileKindOf(name) || !yamlEnding.test(name)) return undefined;
  const words = name.replace(yamlEnding, '').split(/([.\-_ ])/);
  const kind = closestWord(words.at(-1)!, fileKinds);
  if (kind === undefined) return undefined;
  const stem = words.slice(0, -2).join('');
  return { kind, wanted: `${stem === '' ? 'NAME' : stem}.${kind}.yaml` };
}

/**
 * The problem of a file whose name is nearly one of ours and whose text is of that kind; undefined for a file that is
 * plainly something else.
 *
 * @param name without folders
 * @param text its beginning is enough
 */
export function misnamedProblem(name: string, text: string): Problem | undefined {
  const near = nearlyNamed(name);
  if (!near || !isOfKind(near.kind, text.slice(0, looked))) return undefined;
  const { kind, wanted } = near;
  const message = `This file is not read: it looks like a ${kind} file, and the names of such files end in .${kind}.yaml. Rename it to ${wanted}.`;
  return { start: 0, end: 0, code: 'misnamed-file', message };
}

/** Whether a text has the keys of a kind of file at its top. */
function isOfKind(kind: FileKind, text: string): boolean {
  const has = (key: string): boolean => text.startsWith(`${key}:`) || text.includes(`\n${key}:`);
  if (kind === 'route') return (has('game') && has('category')) || (has('segments') && has('techniques'));
  return /(?:^|\n)route:[ \t]{1,9}["']?[^\n]{1,200}\.route\.ya?ml/i.test(text);
}

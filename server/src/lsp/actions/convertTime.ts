import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { formatTime, parseTime } from '../../text/time.ts';
import { spotAt, type Path } from '../../files/yaml/tree.ts';
import type { FileKind } from '../../files/fileKind.ts';
import { workspaceEdit } from '../documents/workspaceEdit.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

/** Where a time may be written either in seconds or as minutes and seconds. `#` stands for an index in a list. */
const timePatterns: Readonly<Record<FileKind, RegExp | undefined>> = {
  route: /^(target|segments\/#\/time)$/,
  practice: undefined,
  runs: /^runs\/#\/(total|times\/[^/]+)$/,
  pool: undefined,
  week: /^(target|times\/[^/]+\/time)$/,
};

/** Writes a time in seconds as minutes and seconds, or the reverse, without losing a digit. */
export function convertTime({ services, file, start }: ActionContext): CodeAction[] {
  const spot = spotAt(file.reading.tree, start);
  if (spot?.part !== 'value' || spot.tree?.type !== 'scalar') return [];
  if (!timePatterns[file.kind]?.test(pathPattern(spot.path))) return [];
  const written = services.positions.text(file.uri, spot.span);
  const [, quote, bare] = /^(["']?)([\d:.]+)\1$/.exec(written) ?? [];
  const seconds = bare === undefined ? undefined : parseTime(bare);
  if (bare === undefined || seconds === undefined) return [];
  const digits = bare.split('.')[1]?.length ?? 0;
  const text = bare.includes(':') ? seconds.toFixed(digits) : formatTime(seconds, digits);
  // Below a minute both spellings are the same. A change must not lose a digit.
  if (text === bare || parseTime(text) !== seconds) return [];
  // A number of seconds in quotes is a text and not a number, but it is read as a time as well.
  const edit = { uri: file.uri, ...spot.span, text: quote! + text + quote! };
  const unit = text.includes(':') ? '' : ' seconds';
  return [
    codeAction(`Write as ${text}${unit}`, CodeActionKind.RefactorRewrite, workspaceEdit(services, [edit])),
  ];
}

function pathPattern(path: Path): string {
  return path.map((step) => (typeof step === 'number' ? '#' : step)).join('/');
}

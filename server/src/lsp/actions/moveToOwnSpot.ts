import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { updateAtPath } from '../../files/edit/editPath.ts';
import { yieldsValue } from '../../files/edit/intendedEffect.ts';
import { entryOf, locate, spotAt, type Tree } from '../../files/yaml/tree.ts';
import { toValue } from '../../files/yaml/value.ts';
import { workspaceEdit } from '../documents/workspaceEdit.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

/** Gives a use that shares its spot with others of the segment a new spot, so that both can be tried in one run. */
export function moveToOwnSpot({ services, file, start }: ActionContext): CodeAction[] {
  if (file.kind !== 'route') return [];
  const { tree } = file.reading;
  const path = spotAt(tree, start)?.path.slice(0, 4) ?? [];
  const [section, segment, list, index] = path;
  if (section !== 'segments' || list !== 'techniques' || typeof index !== 'number') return [];
  const uses = locate(tree, [section, segment!, list]).tree;
  if (uses?.type !== 'list') return [];
  const spots = uses.items.map(({ value }) => wordAt(value, 'spot'));
  const spot = spots[index];
  if (spot === undefined || spots.filter((other) => other === spot).length < 2) return [];
  const technique = wordAt(uses.items[index]?.value, 'use') ?? spot;
  const free = [technique, ...[2, 3, 4, 5, 6, 7, 8, 9].map((number) => `${spot}-${number}`)].find(
    (name) => !spots.includes(name),
  );
  const at = [...path, 'spot'];
  const place = locate(tree, at);
  if (free === undefined || !place.exact) return [];
  const edit = { ...place.value, text: free };
  if (
    !yieldsValue(
      file.reading,
      [edit],
      updateAtPath(toValue(tree), at, () => free),
    )
  )
    return [];
  return [
    codeAction(
      `Move this use to a spot of its own, \`${free}\``,
      CodeActionKind.RefactorRewrite,
      workspaceEdit(services, [{ uri: file.uri, ...edit }]),
    ),
  ];
}

function wordAt(use: Tree | undefined, key: string): string | undefined {
  const value = entryOf(use, key)?.value;
  return value?.type === 'scalar' && typeof value.value === 'string' ? value.value : undefined;
}

import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { spotAt } from '../../files/yaml/tree.ts';
import { workspaceEdit } from '../documents/workspaceEdit.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

/** Writes a use that is only an id as a map, to which the use's own numbers can be added. */
export function expandUse({ services, file, start }: ActionContext): CodeAction[] {
  const spot = spotAt(file.reading.tree, start);
  if (file.kind !== 'route' || spot?.tree?.type !== 'scalar') return [];
  const [section, segment, list, index] = spot.path;
  const isUse = section === 'segments' && typeof segment === 'number' && list === 'techniques';
  if (!isUse || typeof index !== 'number' || spot.path.length !== 4) return [];
  const written = services.positions.text(file.uri, spot.span);
  const edit = { uri: file.uri, ...spot.span, text: `{ use: ${written} }` };
  const title = 'Write this use out, to give it numbers of its own';
  return [codeAction(title, CodeActionKind.RefactorRewrite, workspaceEdit(services, [edit]))];
}

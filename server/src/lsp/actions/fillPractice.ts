import { CodeActionKind, type CodeAction } from 'vscode-languageserver';
import { defaultNumber } from '../../files/schema/defaults.ts';
import type { Block } from '../../files/documents/documents.ts';
import { weekDefaults } from '../../files/documents/weekDocument.ts';
import { addKey } from '../../files/edit/editPath.ts';
import { entryOf, locate, spotAt } from '../../files/yaml/tree.ts';
import { runnerDayOf } from '../../text/calendar.ts';
import { formatCount } from '../../text/format.ts';
import { currentTechniqueId, type Project } from '../../workspace/project.ts';
import { runnerFilesOf } from '../../workspace/runnerFiles.ts';
import { workspaceEdit } from '../documents/workspaceEdit.ts';
import { codeAction, type ActionContext } from './actionContext.ts';

const attemptSeconds = defaultNumber('route', ['techniques', 'any', 'practice', 'attempt']);

/** With fewer blocks, the logs say little about the length of an attempt. */
const minBlocks = 3;

/**
 * Writes under a technique how long one attempt and the way back take, as the logged blocks show: the median of their
 * minutes for each attempt. No log says how much of that is the way back; the attempt keeps its written length or,
 * where none is written, the schema's default.
 */
export function fillPractice({ services, file, project, start }: ActionContext): CodeAction[] {
  if (file.kind !== 'route' || !project) return [];
  const { path } = spotAt(file.reading.tree, start) ?? { path: [] };
  const [section, id] = path;
  const technique = locate(file.reading.tree, path.slice(0, 2)).tree;
  if (section !== 'techniques' || typeof id !== 'string' || technique?.type !== 'map') return [];
  const own = runnerFilesOf(project);
  if ('runners' in own) return [];
  const dayStarts = own.week?.document.dayStarts ?? weekDefaults.dayStarts;
  const day = services.estimates.day(own);
  const cycles = own.practice
    .flatMap(({ document }) => document.sessions)
    .filter(({ start }) => runnerDayOf(start, dayStarts) <= day)
    .flatMap(({ blocks }) => blocks)
    .flatMap((block) => blockCycle(project, block, id) ?? []);
  if (cycles.length < minBlocks) return [];
  const cycle = median(cycles);
  const practice = entryOf(technique, 'practice')?.value;
  const attemptNode = practice?.type === 'map' ? entryOf(practice, 'attempt')?.value : undefined;
  if (practice && (practice.type !== 'map' || entryOf(practice, 'reload'))) return [];
  const written =
    attemptNode?.type === 'scalar' && typeof attemptNode.value === 'number' ? attemptNode.value : undefined;
  const attempt = written ?? Math.min(attemptSeconds, roundToTenths(cycle));
  const reload = roundToTenths(Math.max(0, cycle - attempt));
  const edit = practice
    ? written !== undefined &&
      addKey(file.reading, ['techniques', id, 'practice'], 'reload', String(reload), ['attempt'])
    : addKey(file.reading, ['techniques', id], 'practice', `{ attempt: ${attempt}, reload: ${reload} }`);
  if (!edit) return [];
  const title = `Fill in \`practice\` from the log: ${roundToTenths(cycle)} s an attempt with the way back (${formatCount(cycles.length, 'block')})`;
  return [
    codeAction(title, CodeActionKind.RefactorRewrite, workspaceEdit(services, [{ uri: file.uri, ...edit }])),
  ];
}

/** Seconds from one attempt to the next in a block of this technique; undefined where the block does not say. */
function blockCycle(project: Project, block: Block, id: string): number | undefined {
  if (block.technique === undefined || currentTechniqueId(project, block.technique) !== id) return undefined;
  const attempts = block.attempts ?? block.landed?.tries ?? block.tape?.length ?? 0;
  return attempts > 0 && block.minutes > 0 ? (block.minutes * 60) / attempts : undefined;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

function roundToTenths(seconds: number): number {
  return Math.round(seconds * 10) / 10;
}

/** The parts of a route as the text of a route file, in the order and the style in which people write one. */
import { entryToYaml, keyToYaml, scalarToYaml, toFlowYaml } from '../files/edit/flowYaml.ts';
import type { RouteParts, TableSegment, TableTechnique, TableUse } from './routeParts.ts';

/** The segments and techniques of a new route; either may be empty. */
type NewParts = Pick<RouteParts, 'segments' | 'techniques'>;

/** A new route file, with the ids of its techniques and segments in their order. */
export function writtenRoute(
  game: string,
  category: string,
  parts: NewParts,
): { readonly text: string; readonly techniques: readonly string[]; readonly segments: readonly string[] } {
  return {
    text: routeFileText(game, category, parts),
    techniques: parts.techniques.map(({ id }) => id),
    segments: parts.segments.map(({ id }) => id),
  };
}

function routeFileText(game: string, category: string, { segments, techniques }: NewParts): string {
  return [
    `game: ${wordsToYaml(game)}`,
    `category: ${wordsToYaml(category)}`,
    'restart: 10 # seconds from a reset to the next start',
    '',
    ...(segments.length === 0
      ? ['segments: []']
      : ['segments:', ...segments.map((segment) => segmentText(segment, '  '))]),
    '',
    ...(techniques.length === 0
      ? ['techniques: {}']
      : ['techniques:', ...techniques.map((technique) => techniqueText(technique, '  '))]),
    '',
  ].join('\n');
}

/** An item of `segments:`, without a line break at its end. */
export function segmentText(segment: TableSegment, indent: string): string {
  const { id, name, time, spread, survive, uses, notes, links, own } = segment;
  const inside = `${indent}  `;
  const lines = [
    ...(name === undefined || name === id ? [] : [`name: ${wordsToYaml(name)}`]),
    `time: ${time}`,
    ...(spread === undefined ? [] : [`spread: ${spread}`]),
    ...(survive === undefined ? [] : [`survive: ${survive}`]),
    ...textLines('notes', notes),
    ...(links.length === 0 ? [] : [`links: ${toFlowYaml(links)}`]),
    ...ownLines(own),
    ...(uses.length === 0 ? [] : ['techniques:', ...uses.map((use) => `  - ${useText(use)}`)]),
  ];
  return [`${indent}- id: ${scalarToYaml(id)}`, ...lines.map((line) => indented(line, inside))].join('\n');
}

/** An entry of `techniques:`, without a line break at its end. */
export function techniqueText(technique: TableTechnique, indent: string): string {
  const { id, name, difficulty, saves, loses, endsRun, needs, practice, notes, links, own } = technique;
  const lines = [
    ...(name === undefined || name === id ? [] : [`name: ${wordsToYaml(name)}`]),
    `difficulty: ${difficulty}`,
    `saves: ${saves}`,
    ...(loses === undefined ? [] : [`loses: ${loses}`]),
    ...(endsRun === true ? ['ends_run: true'] : []),
    ...(needs.length === 0 ? [] : [`needs: ${toFlowYaml(needs)}`]),
    ...(Object.keys(practice).length === 0 ? [] : [`practice: ${toFlowYaml(practice)}`]),
    ...textLines('notes', notes),
    ...(links.length === 0 ? [] : [`links: ${toFlowYaml(links)}`]),
    ...ownLines(own),
  ];
  return [`${indent}${keyToYaml(id)}:`, ...lines.map((line) => indented(line, `${indent}  `))].join('\n');
}

/** A use on one line, as it stands behind a dash or in brackets. */
export function useText({ technique, id, saves, loses }: TableUse): string {
  return id === undefined && saves === undefined && loses === undefined
    ? scalarToYaml(technique)
    : toFlowYaml({ use: technique, id, saves, loses });
}

function ownLines(own: Readonly<Record<string, string | number>>): string[] {
  return Object.entries(own).map(([key, value]) => entryToYaml(key, value));
}

/** A text of several lines as a block below its key, where YAML keeps it as it is; else on one line. */
function textLines(key: string, text: string | undefined): string[] {
  if (text === undefined) return [];
  const lines = text.split(/\r\n|\r|\n/).map((line) => line.trimEnd());
  const asBlock =
    lines.length > 1 && lines.every((line) => /^(?:$|[^\s\p{C}])/u.test(line) && !/\p{C}/u.test(line));
  return asBlock ? [`${key}: |`, ...lines.map((line) => `  ${line}`)] : [`${key}: ${wordsToYaml(text)}`];
}

/** Words of any language as a value of a block: plain where that is read as the same text, as people write it. */
function wordsToYaml(text: string): string {
  const plain = /^[\p{L}\p{N}](?:[\p{L}\p{N}\p{M} _.,'’!?%&+/()-]{0,200}[\p{L}\p{N}\p{M}.'’!?%)])?$/u.test(
    text,
  );
  // Numbers, dates and words that YAML reads as something else are quoted there.
  const other = !/\p{L}/u.test(text) || /^[\w.-]{1,12}$/.test(text);
  return plain && !other ? text : scalarToYaml(text);
}

function indented(line: string, indent: string): string {
  return line.trim() === '' ? '' : indent + line;
}

/** The edits that put the parts of a table into a route file. */
import { insertEntries } from '../files/edit/insertEntries.ts';
import { insertItems, type ListItemText } from '../files/edit/insertItems.ts';
import { updateAtPath } from '../files/edit/editPath.ts';
import { yieldsValue } from '../files/edit/intendedEffect.ts';
import { entryToYaml, toFlowYaml } from '../files/edit/flowYaml.ts';
import type { TextEdit } from '../files/edit/textEdit.ts';
import { listLengthAt } from '../files/edit/valueAt.ts';
import { isFullyRead } from '../files/reading/fullyRead.ts';
import { readSource, type Reading } from '../files/reading/reading.ts';
import type { Path } from '../files/yaml/tree.ts';
import { toValue } from '../files/yaml/value.ts';
import type { RouteParts, TableSegment, TableTechnique, UsesOfKnown } from './routeParts.ts';
import { segmentText, techniqueText, useText } from './routeText.ts';

/**
 * Edits that add segments and techniques behind those that a route has, and uses to its segments; everything else stays
 * as it is written.
 *
 * @param pathOf where a segment is in the file, by its id
 * @returns undefined where the file is written in a way that no edit is sure to fit
 */
export function routeEdits(
  reading: Reading,
  { segments, techniques, usesOfKnown }: RouteParts,
  pathOf: (segment: string) => Path | undefined,
): readonly TextEdit[] | undefined {
  if (!isFullyRead(reading)) return undefined;
  const edits: (TextEdit | undefined)[] = [];
  let wanted = toValue(reading.tree);
  const addItems = (path: Path, items: readonly ListItemText[], values: readonly unknown[]): void => {
    const length = listLengthAt(reading, path) ?? 0;
    edits.push(insertItems(reading, path, length, items));
    wanted = withItems(wanted, path, values);
  };
  if (segments.length > 0) {
    const values = segmentValues(segments);
    const items = segments.map((segment, at) => ({
      inline: toFlowYaml(values[at]),
      lines: segmentText(segment, '')
        .split('\n')
        .map((line) => line.slice(2)),
    }));
    addItems(['segments'], items, values);
  }
  if (techniques.length > 0) {
    const values = techniqueValues(techniques);
    const entries = techniques.map((technique) => ({
      key: technique.id,
      value: values[technique.id],
      inline: entryToYaml(technique.id, values[technique.id]),
      lines: techniqueText(technique, '').split('\n'),
    }));
    edits.push(insertEntries(reading, 'techniques', entries));
    wanted = updateAtPath({ techniques: null, ...(wanted as object) }, ['techniques'], (map) => ({
      ...(map as object | null),
      ...values,
    }));
  }
  for (const { segment, uses } of usesOfKnown) {
    const path = pathOf(segment);
    if (!path) return undefined;
    const items = uses.map((use) => ({ inline: useText(use), lines: [useText(use)] }));
    addItems([...path, 'techniques'], items, useValues(uses));
  }
  const all = edits.flatMap((edit) => edit ?? []);
  return all.length === edits.length && yieldsValue(reading, all, wanted) ? all : undefined;
}

/** The value with items behind those of a list; the list is added where it is missing. */
function withItems(value: unknown, path: Path, items: readonly unknown[]): unknown {
  const key = String(path.at(-1));
  return updateAtPath(value, path.slice(0, -1), (map) => {
    const before = (map as Readonly<Record<string, unknown>>)[key];
    return { ...(map as object), [key]: [...(Array.isArray(before) ? (before as unknown[]) : []), ...items] };
  });
}

function segmentValues(segments: readonly TableSegment[]): readonly unknown[] {
  return valueOf(['segments:', ...segments.map((segment) => segmentText(segment, '  '))])
    .segments as readonly unknown[];
}

function techniqueValues(techniques: readonly TableTechnique[]): Readonly<Record<string, unknown>> {
  return valueOf(['techniques:', ...techniques.map((technique) => techniqueText(technique, '  '))])
    .techniques as Readonly<Record<string, unknown>>;
}

function useValues(uses: UsesOfKnown['uses']): readonly unknown[] {
  return valueOf(['segments:', ...uses.map((use) => `  - ${useText(use)}`)]).segments as readonly unknown[];
}

/** What lines of a route say. */
function valueOf(lines: readonly string[]): Readonly<Record<string, unknown>> {
  return toValue(readSource('route', `${lines.join('\n')}\n`).tree) as Readonly<Record<string, unknown>>;
}

import { locate } from '../../files/yaml/tree.ts';
import { isMap, toValue } from '../../files/yaml/value.ts';
import type { TechniqueNotes, TechniqueNotesParams } from '../../protocol/messages/practiceBlock.ts';
import { sanitizeOutput } from '../../safeText/terminal.ts';
import { fileAt } from '../documents/fileServices.ts';
import { resolveTechnique } from '../requests/resolveProject.ts';
import type { PracticeServices } from './practiceServices.ts';

/** Longest notes that are shown beside a block, in UTF-16 units: several screens. */
const maxNotesLength = 6000;
/** How many links are shown beside a block, and the longest one, in UTF-16 units. */
const maxLinks = 20;
const maxLinkLength = 2000;

/**
 * Notes and links of a technique; none where the route has none, or no such technique. They are read off the file when
 * they are asked for and are no part of a technique as the model knows it, so that a new note changes no estimate.
 */
export function techniqueNotes(
  { workspace }: Pick<PracticeServices, 'workspace'>,
  { uri, technique }: TechniqueNotesParams,
): TechniqueNotes {
  const resolved = resolveTechnique(workspace, uri, technique);
  if ('message' in resolved) return { notes: '', links: [] };
  const { definition } = resolved;
  const place = locate(fileAt(workspace, definition.uri)?.reading.tree, definition.path);
  const written = place.exact ? toValue(place.tree) : null;
  const { notes: said, links: listed } = isMap(written) ? written : {};
  const notes = sanitizeOutput(textOf(said), false).trim();
  const links = Array.isArray(listed) ? listed.map((link) => textOf(link).trim()) : [];
  return {
    notes: notes.length > maxNotesLength ? `${notes.slice(0, maxNotesLength)}…` : notes,
    links: links.filter((link) => link !== '' && link.length <= maxLinkLength).slice(0, maxLinks),
  };
}

/** The text of a scalar; empty for anything else. */
function textOf(value: unknown): string {
  const isScalar = ['string', 'number', 'bigint', 'boolean'].includes(typeof value);
  return isScalar ? String(value) : '';
}

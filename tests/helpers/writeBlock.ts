/** Replaces the part of a page between two marks, for commands that measure a table and write it there. */
import { readFileSync, writeFileSync } from 'node:fs';
import { format, resolveConfig } from 'prettier';

/** A page's text with the block between the marks of that name replaced; undefined where it has no such marks. */
export function withBlock(page: string, block: string, name: string): string | undefined {
  const [startMark, endMark] = [`<!-- ${name}:start -->`, `<!-- ${name}:end -->`];
  const start = page.indexOf(startMark);
  const end = page.indexOf(endMark);
  if (start < 0 || end < start) return undefined;
  return `${page.slice(0, start + startMark.length)}\n\n${block}\n\n${page.slice(end)}`;
}

/**
 * Replaces the block between the marks of that name in a page, and formats the page.
 *
 * @param file path of a Markdown page
 * @throws Error where the page has no such marks; nothing is written then
 */
export async function writeBlock(file: string, name: string, block: string): Promise<void> {
  const changed = withBlock(readFileSync(file, 'utf8'), block, name);
  if (changed === undefined)
    throw new Error(`${file} has no <!-- ${name}:start --> and <!-- ${name}:end --> to write between.`);
  writeFileSync(file, await format(changed, { ...(await resolveConfig(file)), filepath: file }));
}

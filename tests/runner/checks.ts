/** Checks of types and layout, which keep what they found for the next run, whichever program starts that. */
import { join } from 'node:path';
import type { Stage } from './stage.ts';

const root = join(import.meta.dirname, '../..');

/** Where checks keep what they found; a new installation begins without it. */
export const cacheFolder = join(root, 'node_modules/.cache/checks');

/** Parts with a tsconfig of their own, from which nothing else is checked. */
export const typedParts = ['client/panel', 'client/practice', 'tests/panel', 'tests/practice'] as const;

const bin = (name: string): string => join(root, 'node_modules/.bin', name);

/**
 * Types of one part. The compiler writes down on what each finding depends, so that it looks again only where that
 * changed; without its notes it looks at everything.
 *
 * @param part folder of a tsconfig.json, from the root
 */
export function typesOf(part: string): Stage {
  const notes = join(cacheFolder, `${part.replaceAll('/', '-')}.tsbuildinfo`);
  return {
    title: `types of ${part}`,
    command: bin('tsc'),
    args: ['-p', part, '--noEmit', '--incremental', '--tsBuildInfoFile', notes],
  };
}

/**
 * Layout of files. One with the same content and options as before is known to be in order: nothing else counts.
 *
 * @param files paths from the root, of any kind
 */
export function layoutOf(files: readonly string[]): Stage {
  const cache = ['--cache', '--cache-strategy', 'content', '--cache-location', join(cacheFolder, 'layout')];
  return {
    title: 'format',
    command: bin('prettier'),
    args: ['--check', '--ignore-unknown', ...cache, ...files],
  };
}

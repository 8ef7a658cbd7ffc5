/**
 * Draws the rooms of the source with their arrows: `npm run rooms -- [--svg FILE] [--at REVISION] [--short]`.
 *
 * Without --at it reads the work tree, and the exit code is 1 where an arrow runs up, files import each other in a
 * circle, or another rule of .dependency-cruiser.mjs is broken. With --at it draws the source of another revision,
 * taken out of git into a temporary folder, and the exit code says nothing of it. --short leaves out the table and names
 * only what is against the order.
 */
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { buildHouse, faultsOf } from './house.ts';
import { drawAsSvg, drawAsText, drawFaults } from './picture.ts';
import { atRevision } from './revision.ts';
import { readTree } from './tree.ts';

const root = join(import.meta.dirname, '../..');
const { values } = parseArgs({
  options: { svg: { type: 'string' }, at: { type: 'string' }, short: { type: 'boolean', default: false } },
});

const house = buildHouse(
  values.at === undefined
    ? await readTree(root, ['server/src', 'client'])
    : await atRevision(root, values.at, (folder) => readTree(folder, ['server/src', 'client'])),
);
console.log(values.short ? drawFaults(house) : drawAsText(house));
if (values.svg !== undefined) await writeFile(values.svg, drawAsSvg(house));
if (values.at === undefined && faultsOf(house) > 0) process.exitCode = 1;

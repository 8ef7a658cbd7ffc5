/**
 * Takes the pictures of two stories in the editor: `npm run screenshots [-- STORY ... THEME ... SIZE ...]`.
 *
 * `first`: from an empty folder over a pasted table to the first answer. `evening`: tonight, a block, its rest, the next
 * one, a run that is logged, what it changed, the review. In each kind of theme; wide, with narrow pages, and at 200 %;
 * all of a kind where none of it is named. The pictures are numbered in tests/output/film/, with a page, index.html.
 * Each page of the extension is checked by axe-core where it is photographed; what it finds is printed, and the script
 * fails.
 */
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { evening } from './film/evening.ts';
import { OUTPUT, SIZES, type Film, type Size } from './film/film.ts';
import { first } from './film/firstStart.ts';
import { describeFailure } from './host/problem.ts';
import { themesAsked } from './pictures.ts';

const stories = { first, evening };

function pageOf(films: readonly Film[]): string {
  const pictures = films.flatMap((film) => film.pictures);
  const rows = pictures.map(
    (file) => `<figure><figcaption>${file}</figcaption><img src="${file}" alt=""></figure>`,
  );
  return `<!DOCTYPE html>\n<meta charset="utf-8">\n<title>Two stories</title>\n<style>img { max-width: 100%; }</style>\n${rows.join('\n')}\n`;
}

async function main(argv: readonly string[]): Promise<number> {
  await mkdir(OUTPUT, { recursive: true });
  const wanted = <T extends string>(all: readonly T[]): readonly T[] => {
    const named = all.filter((one) => argv.includes(one));
    return named.length > 0 ? named : all;
  };
  const films: Film[] = [];
  for (const story of wanted(Object.keys(stories) as (keyof typeof stories)[]))
    for (const theme of themesAsked(argv))
      for (const size of wanted(Object.keys(SIZES) as Size[])) films.push(await stories[story](theme, size));
  await writeFile(join(OUTPUT, 'index.html'), pageOf(films));
  const findings = films.flatMap((film) => film.findings);
  for (const finding of findings) process.stderr.write(`${finding}\n`);
  const count = films.flatMap((film) => film.pictures).length;
  process.stdout.write(
    `${count} pictures, ${findings.length} findings of axe-core: ${join(OUTPUT, 'index.html')}\n`,
  );
  return findings.length === 0 ? 0 : 1;
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (failure) {
  process.stderr.write(`${describeFailure(failure)}\n`);
  process.exitCode = 1;
}

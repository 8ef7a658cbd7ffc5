// The licences of the packages whose code is in a folder of bundles, which have to be included.
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { filesByPackage } from './bundledPackages.mjs';

export const noticesName = 'THIRD-PARTY-NOTICES.txt';

const licenceFile = /^(licen[cs]e|notice|copying)([-.](\w+))*$/i;

/** Copyright comments in the source, by authors of code that the package took over; they have to be kept. */
async function notesIn(paths) {
  const notes = new Set();
  for (const path of [...paths].sort()) {
    const text = await readFile(path, 'utf8');
    for (const [comment] of text.matchAll(/\/\*[^]*?\*\//g)) {
      // A comment that only repeats the package's own licence is left out.
      if (!/copyright/i.test(comment) || /@license|licen[cs]e\.txt/i.test(comment)) continue;
      notes.add(
        comment
          .replaceAll(/^\/\*+|\*+\/$/g, '')
          .replaceAll(/^ *\* ?/gm, '')
          .trim(),
      );
    }
  }
  return [...notes];
}

/** A package's name, version and the name of its licence, and the licence texts that come with it. */
async function describe(folder, paths) {
  const { name, version, license } = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
  if (typeof license !== 'string')
    throw new Error(`${folder} names no licence: it cannot be shipped like this.`);
  const names = (await readdir(folder)).filter((file) => licenceFile.test(file)).sort();
  if (names.length === 0) throw new Error(`${folder} holds no licence text: it cannot be shipped like this.`);
  const texts = await Promise.all(names.map((file) => readFile(join(folder, file), 'utf8')));
  const whole = [...texts, ...(await notesIn(paths))].map((text) => text.replaceAll('\r\n', '\n').trim());
  return { title: `${name} ${version} (${license})`, texts: whole };
}

/**
 * Writes the list of packages into a folder.
 *
 * @param metafiles esbuild's metafiles of the bundles in it
 * @throws where a package has no licence
 */
export async function writeNotices(metafiles, folder) {
  const packages = [...filesByPackage(metafiles)];
  const described = await Promise.all(packages.map(([of, paths]) => describe(of, paths)));
  // A text that several packages share is printed once.
  const titles = new Map();
  for (const { title, texts } of described)
    for (const text of texts) titles.set(text, (titles.get(text) ?? new Set()).add(title));
  const sections = [...titles].map(([text, of]) => ({ heading: [...of].sort().join('\n'), text }));
  sections.sort((one, other) => (one.heading + one.text < other.heading + other.text ? -1 : 1));
  const line = '-'.repeat(79);
  const whole = [
    'Routewright contains work of others. Each part is listed with its licence.',
    ...sections.map(({ heading, text }) => `${line}\n${heading}\n${line}\n\n${text}`),
  ];
  await writeFile(join(folder, noticesName), `${whole.join('\n\n')}\n`);
}

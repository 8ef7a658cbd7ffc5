// The list of what is in a package, for programs that look for known weaknesses: CycloneDX 1.5, as JSON. It names the
// packages whose code is in the bundles, each with the hash that the lock file holds it to.
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { filesByPackage } from './bundledPackages.mjs';

export const sbomName = 'sbom.cdx.json';

/** A package of the lock file as a component. Throws where the lock file does not say what must be in it. */
async function component(folder, lock) {
  const { name, version, license } = JSON.parse(await readFile(join(folder, 'package.json'), 'utf8'));
  const locked = lock.packages[folder];
  if (locked?.version !== version || locked.integrity === undefined)
    throw new Error(`${folder} has version ${version}, and the lock file does not: run npm ci.`);
  const [, algorithm, digest] = /^sha(\d+)-(.+)$/.exec(locked.integrity);
  // A package name's slash stays, its @ is encoded: as the description of purl has it.
  const purl = `pkg:npm/${name.replace('@', '%40')}@${version}`;
  return {
    'bom-ref': purl,
    type: 'library',
    name,
    version,
    purl,
    hashes: [{ alg: `SHA-${algorithm}`, content: Buffer.from(digest, 'base64').toString('hex') }],
    licenses: [/[ (]/.test(license) ? { expression: license } : { license: { id: license } }],
  };
}

/**
 * Writes the list into a folder of bundles. The same sources give the same bytes, so it holds no date and no number
 * drawn at random.
 *
 * @param metafiles esbuild's metafiles of the bundles in it
 * @param of the package's package.json
 */
export async function writeSbom(metafiles, folder, of) {
  const lock = JSON.parse(await readFile('package-lock.json', 'utf8'));
  const { name, version, license } = JSON.parse(await readFile(of, 'utf8'));
  const packages = [...filesByPackage(metafiles).keys()];
  const components = await Promise.all(packages.map((each) => component(each, lock)));
  const byPurl = new Map(components.map((each) => [each.purl, each]));
  const purl = `pkg:npm/${name}@${version}`;
  const bom = {
    $schema: 'http://cyclonedx.org/schema/bom-1.5.schema.json',
    bomFormat: 'CycloneDX',
    specVersion: '1.5',
    version: 1,
    metadata: {
      component: {
        'bom-ref': purl,
        type: 'application',
        name,
        version,
        purl,
        licenses: [{ license: { id: license } }],
      },
    },
    components: [...byPurl.keys()].sort().map((each) => byPurl.get(each)),
    dependencies: [{ ref: purl, dependsOn: [...byPurl.keys()].sort() }],
  };
  await writeFile(join(folder, sbomName), `${JSON.stringify(bom, null, 1)}\n`);
}

// Which packages have code in a folder of bundles. Made from esbuild's own account of its inputs, so that it is true for
// exactly these bundles.

/**
 * The source files whose code is in the bundles, by the folder of their package, such as `node_modules/yaml`.
 *
 * @param metafiles esbuild's metafiles
 */
export function filesByPackage(metafiles) {
  const packages = new Map();
  const inputs = metafiles.flatMap(({ outputs }) => Object.values(outputs).map((output) => output.inputs));
  for (const [path, { bytesInOutput }] of inputs.flatMap((input) => Object.entries(input))) {
    const [folder] = /^.*node_modules\/(@[^/]+\/)?[^/]+/.exec(path) ?? [];
    if (folder === undefined || bytesInOutput === 0) continue;
    packages.set(folder, (packages.get(folder) ?? new Set()).add(path));
  }
  return packages;
}

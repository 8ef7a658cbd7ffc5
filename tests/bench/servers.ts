import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { ServerCommand } from './client.ts';

export const root = resolve(import.meta.dirname, '../..');

/** Where the general-purpose server is installed. */
export const generalFolder = dirname(
  createRequire(import.meta.url).resolve('yaml-language-server/package.json'),
);

/** The module that starts the general-purpose server, and the version installed. */
export const generalEntry = join(generalFolder, 'out/server/src/server.js');
export const generalVersion = (
  JSON.parse(readFileSync(join(generalFolder, 'package.json'), 'utf8')) as { version: string }
).version;

/** What both servers are started from. The build that is measured is one of its own: another does not get in its way. */
export const ownEntry = join(root, 'server/src/main.ts');
export const built = join(root, 'tests/output/bench/built');
export const ownBundle = join(built, 'dist/server.cjs');
/** The command line, as its package starts it. */
export const cliBundle = join(built, 'server/dist/cli.js');

/** Routewright's server, as the extension starts it. */
export const own: ServerCommand = {
  name: 'Routewright',
  args: [ownBundle, '--stdio'],
  languageId: 'routewright',
  settings: {},
};

/**
 * The general-purpose YAML server with this project's route schema. Its catalogues of public schemas are off:
 * nothing here needs them, and the benchmark reads no network.
 */
export const general: ServerCommand = {
  name: `yaml-language-server ${generalVersion}`,
  args: [join(generalFolder, 'bin/yaml-language-server'), '--stdio'],
  languageId: 'yaml',
  settings: {
    yaml: {
      schemas: { [pathToFileURL(join(root, 'schemas/route.schema.json')).toString()]: '*.route.yaml' },
      schemaStore: { enable: false },
      kubernetesCRDStore: { enable: false },
      validate: true,
    },
  },
};

/** One that says what is waited for without looking at anything: what is left is the way there and back. */
export const empty: ServerCommand = {
  name: 'a server that looks at nothing',
  args: [join(root, 'tests/bench/empty.mjs')],
  languageId: 'routewright',
  settings: {},
};

/** The general-purpose server without the 200 ms that it waits after an edit; no setting does that, so a module loaded first does. */
export const generalAtOnce: ServerCommand = {
  ...general,
  name: `${general.name} without its wait`,
  args: ['--import', pathToFileURL(join(root, 'tests/bench/noWait.mjs')).toString(), ...general.args],
};

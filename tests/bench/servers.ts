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

/**
 * The folder of the measured build. It is a separate build, so that another build at the same time does not disturb it.
 */
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
 * The general-purpose YAML server with this project's route schema. Its catalogues of public schemas are switched off,
 * so that the benchmark does not use the network.
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

/** A server that publishes the expected diagnostics without any check: its time is that of the messages alone. */
export const empty: ServerCommand = {
  name: 'a server that looks at nothing',
  args: [join(root, 'tests/bench/empty.mjs')],
  languageId: 'routewright',
  settings: {},
};

/**
 * The general-purpose server without its delay of 200 ms after an edit. No setting removes that delay, so a module that
 * is loaded first does.
 */
export const generalAtOnce: ServerCommand = {
  ...general,
  name: `${general.name} without its wait`,
  args: ['--import', pathToFileURL(join(root, 'tests/bench/noWait.mjs')).toString(), ...general.args],
};

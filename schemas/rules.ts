/**
 * Writes client/rules.md, the page of everything that `check` finds, from the rules themselves, and the codes into
 * the settings that package.json declares.
 *
 * Run by `npm run rules`.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { format, resolveConfig } from 'prettier';
import { rulesPage, rulesSetting } from './rulesPage.ts';

const root = join(import.meta.dirname, '..');
const page = join(root, 'client/rules.md');
await writeFile(page, await format(await rulesPage(), { ...(await resolveConfig(page)), filepath: page }));

const manifest = join(root, 'package.json');
const json = JSON.parse(await readFile(manifest, 'utf8')) as {
  contributes: { configuration: { properties: Record<string, object> } };
};
const { properties } = json.contributes.configuration;
properties['routewright.rules'] = { ...properties['routewright.rules'], ...rulesSetting() };
await writeFile(
  manifest,
  await format(JSON.stringify(json), { ...(await resolveConfig(manifest)), filepath: manifest }),
);

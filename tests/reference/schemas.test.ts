import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { describe, expect, it } from 'vitest';
import { getLanguageService } from 'yaml-language-server/out/server/src/languageservice/yamlLanguageService.js';
import { sampleText } from '../helpers/poolFiles.ts';
import { fileKinds } from '../../server/src/files/fileKind.ts';
import { readSource } from '../../server/src/files/reading/reading.ts';

// S: the validator of yaml-language-server 1.25.0, another program's reading of JSON Schema, given the schemas as they
// are published. Whether a file fits must be told alike by our readers, which check entry by entry with validators
// compiled ahead of time.

const schemas = join(import.meta.dirname, '../../schemas');
const quiet = (): void => undefined;

/** Tells what another validator finds wrong with a text, by the schema of a kind of file. */
function otherValidator(kind: string): (text: string) => Promise<string[]> {
  const service = getLanguageService({
    schemaRequestService: (uri) =>
      Promise.resolve(readFileSync(join(schemas, uri.split('/').at(-1)!), 'utf8')),
    workspaceContext: { resolveRelativePath: (relative, base) => new URL(relative, base).href },
    telemetry: { send: quiet, sendError: quiet, sendTrack: quiet },
  });
  const uri = pathToFileURL(join(schemas, `${kind}.schema.json`)).href;
  service.configure({ validate: true, schemas: [{ uri, fileMatch: ['*'] }] });
  let version = 0;
  return async (text) => {
    const document = TextDocument.create(`file:///a.${kind}.yaml`, 'yaml', ++version, text);
    return (await service.doValidation(document, false)).map(({ message }) => message);
  };
}

/** Values of every type, and texts that look like something. */
const values = [
  ...['-1', '0', '1.5', '1000000', 'word', '"Two words"', '""', 'true', '', '[]', '[1, 2]', '{ a: 1 }'],
  ...['1:05.3', '9..16', '2026-10-05'],
];

/** A file with one thing in it changed: the value of each key where it stands first, or the key's own name. */
function* changes(text: string): Generator<{ readonly what: string; readonly changed: string }> {
  const seen = new Set<string>();
  for (const match of text.matchAll(/(?<=^ *(?:- )?|[{,] ?)([a-z_]+): ("[^"]*"|[^\s{}[\],#|"]+)/gm)) {
    const [whole, key = '', value = ''] = match;
    if (seen.has(key)) continue;
    seen.add(key);
    const end = match.index + whole.length;
    for (const other of values) {
      const changed = text.slice(0, end - value.length) + other + text.slice(end);
      yield { what: `${key}: ${other}`, changed };
    }
    yield { what: `${key}s`, changed: text.replace(whole, `${key}s: ${value}`) };
  }
}

describe.each(fileKinds)('a %s file', (kind) => {
  it('fits or does not, as another validator says by the published schema', async () => {
    const text = sampleText(kind);
    const other = otherValidator(kind);
    expect(await other(text)).toEqual([]);
    const tally = { good: 0, bad: 0 };
    for (const { what, changed } of changes(text)) {
      const ours = readSource(kind, changed).problems.map(({ message }) => message);
      const theirs = await other(changed);
      expect(ours.length > 0, `${what}\nours: ${ours.join(' ')}\ntheirs: ${theirs.join(' ')}`).toBe(
        theirs.length > 0,
      );
      tally[ours.length > 0 ? 'bad' : 'good']++;
    }
    // Most of a pool stands in lists, and few other values are as good as those of the tool.
    const [good, bad] = kind === 'pool' ? [3, 60] : [10, 80];
    expect(tally.good).toBeGreaterThan(good);
    expect(tally.bad).toBeGreaterThan(bad);
  });
});

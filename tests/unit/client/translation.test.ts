import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { untranslated } from './words.ts';

const root = join(import.meta.dirname, '../../..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');

/** Fields of package.json that people read. */
const shown = new Set([
  'title',
  'description',
  'markdownDescription',
  'patternErrorMessage',
  'altText',
  'aliases',
]);

/** Every text of such a field, with the path to it. */
function* texts(value: unknown, path: string): Generator<readonly [string, string]> {
  if (typeof value !== 'object' || value === null) return;
  for (const [key, inner] of Object.entries(value)) {
    const list: unknown[] = Array.isArray(inner) ? inner : [inner];
    if (shown.has(key)) for (const text of list) if (typeof text === 'string') yield [`${path}.${key}`, text];
    yield* texts(inner, `${path}.${key}`);
  }
}

describe('package.json', () => {
  const { contributes, capabilities } = JSON.parse(read('package.json')) as Record<string, unknown>;
  const words = JSON.parse(read('package.nls.json')) as Record<string, string>;
  const found = [...texts({ contributes, capabilities }, '')];

  it('has every text that people read in package.nls.json, but the product’s name', () => {
    expect(found.length).toBeGreaterThan(30);
    const plain = found.filter(([, text]) => !/^%[\w.]+%$/.test(text) && text !== 'Routewright');
    expect(plain).toEqual([]);
  });

  it('names no key that is not there, and there is none that nobody names', () => {
    const keys = [...JSON.stringify({ contributes, capabilities }).matchAll(/"%([\w.]+)%"/g)].map(
      ([, key]) => key,
    );
    expect([...new Set(keys)].sort()).toEqual(Object.keys(words).sort());
    for (const [key, text] of Object.entries(words)) expect(text.trim(), key).not.toBe('');
  });
});

/** What is not translated here: whole pages, and the report that is written for whoever mends the extension. */
const left =
  /^(?:webview\/page|panel\/panelPage|practice\/(?:practicePage|runPage))\.ts$|^server\/(?:bugReport|reportParts)\.ts$/;

describe('the client', () => {
  const files = readdirSync(join(root, 'client/src'), { recursive: true, encoding: 'utf8' }).filter(
    (name) => name.endsWith('.ts') && !left.test(name),
  );

  it.each(files)('hands every text of %s that people read to the editor’s translation', (name) => {
    const found = untranslated(name, read(`client/src/${name}`));
    expect(found.filter(({ text }) => text !== 'Routewright')).toEqual([]);
  });

  it('would notice one that is not', () => {
    const of = (source: string) => untranslated('a.ts', source).map(({ text }) => text);
    expect(of(`window.showErrorMessage('That did not work.');`)).toEqual(['That did not work.']);
    expect(of('const title = `Log a run: ${route}`;')).toEqual(['Log a run: {}']);
    expect(of(`pick({ label: 'Others' });`)).toEqual(['Others']);
    expect(of(`l10n.t('That did not work: {0}', why ?? 'No reason');`)).toEqual(['No reason']);
    expect(
      of(`l10n.t('Others'); client.error('It ended by itself.', error); if (a === 'Other one') b('in-run');`),
    ).toEqual([]);
  });
});

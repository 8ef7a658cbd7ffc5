import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { forecastRules, readingCodes, rules } from '../../../server/src/rules/catalogue.ts';

const source = (folder: string) => {
  const root = fileURLToPath(new URL(`../../../server/src/${folder}/`, import.meta.url));
  return readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.ts'))
    .map((path) => ({ name: basename(path), text: readFileSync(join(root, path), 'utf8') }));
};
const all = [...rules, ...forecastRules, ...readingCodes];

describe('the catalogue', () => {
  it('has each code once, in kebab case, with one sentence that says what it looks for', () => {
    const codes = all.map(({ code }) => code);
    expect(new Set(codes).size).toBe(codes.length);
    for (const { code, title } of all) {
      expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(title).toMatch(/^[A-Z].{10,80}\.$/);
    }
  });

  it('has every rule that there is a file of, and each file is named after its code', () => {
    const written = source('rules').flatMap(({ name, text }) => {
      const code = /^export const \w+: (?:Forecast)?Rule = \{\n {2}code: '([a-z-]+)'/m.exec(text)?.[1];
      return code === undefined ? [] : [{ name, code }];
    });
    const known = [...rules, ...forecastRules].map(({ code }) => code);
    expect(written.map(({ code }) => code).sort()).toEqual([...known].sort());
    for (const { name, code } of written) {
      expect(name).toBe(`${code.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase())}.ts`);
    }
  });

  it('has exactly the codes that reading can report', () => {
    // Wherever a code is written in the reading of files: `code: '…'`, a call of a reporter, or a choice of codes.
    const reported = source('files').flatMap(({ text }) =>
      [
        ...text.matchAll(
          /(?:\bcode: |\b(?:problem|report)\(\s*)'([a-z-]+)'|\? '([a-z]+-[a-z-]+)' : '([a-z]+-[a-z-]+)'/g,
        ),
      ].flatMap((match) => match.slice(1).filter((code) => code !== undefined)),
    );
    const returned = source('files').flatMap(({ text }) =>
      [...text.matchAll(/return '([a-z]+-[a-z-]+)'/g)].map((match) => match[1]),
    );
    const codes = new Set([...reported, ...returned]);
    expect([...codes].sort()).toEqual(readingCodes.map(({ code }) => code).sort());
  });
});

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findingsIn } from '../../../schemas/exampleFindings.ts';
import { exampleFiles } from '../../../server/src/rules/engine/exampleFiles.ts';
import { findingDocs } from '../../../server/src/rules/findingDocs.ts';
import { expectNoWorse, mended, ranking, sample } from './builders/fixOnSample.ts';

/** The codes whose fixes the rules' own test files try on the sample. */
function codesTriedOnSample(): string[] {
  const root = join(import.meta.dirname, 'checks');
  return readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.test.ts'))
    .flatMap((path) => {
      const text = readFileSync(join(root, path), 'utf8');
      return [...text.matchAll(/^describeFixOnSample\(\s*'([a-z-]+)'/gm)].map(([, code]) => code!);
    });
}

describe('the fixes', () => {
  it('are tried on the sample for every code of a rule that has one', async () => {
    const fixable: string[] = [];
    for (const { code, page, by } of findingDocs()) {
      if (by === 'reading' || !page.failing) continue;
      const findings = await findingsIn(exampleFiles(page.failing), page.today);
      if (findings.some(({ fix }) => fix)) fixable.push(code);
    }
    expect(codesTriedOnSample().sort()).toEqual(fixable);
  });

  it('are tried on a sample with something to rank, so that an unchanged ranking means something', async () => {
    const { rows } = await ranking(sample);
    expect(rows.length).toBeGreaterThan(5);
  });
});

describe.each(findingDocs().filter(({ page }) => page.failing))(
  'the fix of $code, if it has one',
  ({ code, page }) => {
    it('leaves its example no worse', async () => {
      const files = exampleFiles(page.failing!);
      const before = await findingsIn(files, page.today);
      const fixes = before.flatMap(({ fix }) => fix ?? []);
      const after = await findingsIn(mended(files, before, code), page.today);
      expectNoWorse(before, after);
      if (fixes.length > 0) expect(after.length).toBeLessThan(before.length);
    });
  },
);

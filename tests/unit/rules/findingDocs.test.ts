import { readFileSync } from 'node:fs';
import { format, resolveConfig } from 'prettier';
import { describe, expect, it } from 'vitest';
import { findingsIn } from '../../../schemas/exampleFindings.ts';
import { rulesPage, rulesSetting } from '../../../schemas/rulesPage.ts';
import { findingCodes } from '../../../server/src/rules/catalogue.ts';
import { findingDocs } from '../../../server/src/rules/findingDocs.ts';
import { exampleFiles } from '../../../server/src/rules/engine/exampleFiles.ts';
import type { Example } from '../../../server/src/rules/engine/rule.ts';

const all = findingDocs();
const root = new URL('../../../', import.meta.url);

/** The codes of all findings in an example, each once, those of the model's own estimates included. */
async function codesIn(example: Example, today: string | undefined): Promise<string[]> {
  const findings = await findingsIn(exampleFiles(example), today);
  return [...new Set(findings.map(({ code }) => code))];
}

describe('the documentation', () => {
  it('has a page of every code, with examples but for what is about the size or the name of a file or no file', () => {
    expect(new Set(all.map(({ code }) => code))).toEqual(findingCodes);
    const without = all.flatMap(({ code, page }) => (page.failing && page.passing ? [] : [code]));
    expect(without).toEqual([
      'aliases-too-large',
      'file-not-read',
      'file-too-large',
      'misnamed-file',
      'nested-too-deep',
    ]);
  });

  it('says why and what to do in whole sentences, without a word about the person', () => {
    for (const { code, page } of all) {
      for (const text of [page.why, page.way]) expect(text, code).toMatch(/^[A-Z`].{15,}\.$/);
      expect(`${page.why} ${page.way}`, code).not.toMatch(
        /\b(?:lazy|bad|waste[ds]?|fail(?:ed|ure)?|should have|never again)\b|!/,
      );
    }
  });

  it('speaks of clinicians wherever it speaks of hands', () => {
    for (const { code, page } of all) {
      const text = `${page.why} ${page.way}`;
      if (/\bhands and wrists\b|\bhands tire\b/.test(text)) expect(text, code).toMatch(/clinician/);
    }
  });

  it('is written down as the rules have it (npm run rules)', async () => {
    const page = new URL('client/rules.md', root).pathname;
    const fresh = await format(await rulesPage(), { ...(await resolveConfig(page)), filepath: page });
    expect(readFileSync(new URL('client/rules.md', root), 'utf8')).toBe(fresh);
  });

  it('has every code whose severity can be set in the editor among its settings (npm run rules)', () => {
    const manifest = JSON.parse(readFileSync(new URL('package.json', root), 'utf8')) as {
      contributes: { configuration: { properties: Record<string, object> } };
    };
    const setting = manifest.contributes.configuration.properties['routewright.rules'];
    expect(setting).toMatchObject(rulesSetting());
  });
});

const shown = all.filter(({ page }) => page.failing && page.passing);

describe.each(shown)('the examples of $code', ({ code, page }) => {
  const { failing, passing, today } = page;
  it('fail with exactly that code', async () => {
    expect(await codesIn(failing!, today)).toEqual([code]);
  });

  it('pass without any finding', async () => {
    expect(await codesIn(passing!, today)).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { exampleRoute } from '../../../../../server/src/rules/engine/exampleFiles.ts';
import { codes, ran, start } from '../../builders/exampleRuns.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

describe('ended-by-another', () => {
  it('is found for a technique that the segment neither uses nor falls back on', async () => {
    const by = (where: string, what: string) => `${start}, ended: { at: ${where}, why: miss, by: ${what} }`;
    const [finding] = await expectMarked(ran(by('harbor', '⟦lamp-hop⟧')), 'ended-by-another');
    expect(finding?.message).toContain('It uses `crate-vault` and `rope-swing`.');
    expect(await codes(by('harbor', 'rope-swing'))).toEqual([]);
    const route = exampleRoute.replace('- crate-vault\n', '- { use: crate-vault, backup: lamp-hop }\n');
    expect(await findingsOf({ ...ran(by('harbor', 'lamp-hop')), 'a.route.yaml': route })).toEqual([]);
  });
});

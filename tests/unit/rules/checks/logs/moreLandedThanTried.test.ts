import { describe, expect, it } from 'vitest';
import { block, practiced, runs } from '../../builders/plainLogs.ts';
import { expectMarked } from '../../marked.ts';

describe('more-landed-than-tried', () => {
  it('is found in every kind of count, without a fix', async () => {
    const findings = await expectMarked(
      {
        ...practiced(
          block('technique: crate-vault, minutes: 25, landed: ⟦[61, 45]⟧'),
          block('technique: crate-vault, minutes: 25, seen: ⟦[7, 0]⟧', '2026-10-06'),
          block('segment: harbor, minutes: 25, tried: { crate-vault: ⟦[3, 2]⟧ }', '2026-10-07'),
          block('technique: crate-vault, minutes: 25, landed: [45, 45], seen: [0, 0]', '2026-10-08'),
        ),
        'a.runs.yaml': runs(
          'start: 2026-10-09, tried: { crate-vault: ⟦[2, 1]⟧ }, first: { crate-vault: ⟦[1, 0]⟧ }',
        ),
      },
      'more-landed-than-tried',
    );
    expect(findings.map(({ fix }) => fix)).toEqual([undefined, undefined, undefined, undefined, undefined]);
    expect(findings[0]?.message).toContain('61 landed of 45 tries');
  });
});

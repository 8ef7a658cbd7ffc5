import { describe, expect, it } from 'vitest';
import { week } from '../../builders/weekFile.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

describe('too-many-pins', () => {
  it('is found for more pins than blocks, or than a practice set', async () => {
    await expectMarked(
      week('days: { mon: 50 }\n⟦pin⟧: [crate-vault, rope-swing, lamp-hop]\n'),
      'too-many-pins',
    );
    expect(await findingsOf(week('days: { mon: 75 }\npin: [crate-vault, rope-swing, lamp-hop]\n'))).toEqual(
      [],
    );
    expect(await findingsOf(week('pin: [crate-vault, rope-swing, lamp-hop]\n'))).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { exampleRoute } from '../../../../../server/src/rules/engine/exampleFiles.ts';
import { codes, ran, start } from '../../builders/exampleRuns.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

describe('tried-too-often', () => {
  const code = 'tried-too-often';

  it('counts uses, retries and runs', async () => {
    await expectMarked(
      ran(`${start}, total: 3:35, tried: { crate-vault: ⟦[1, 2]⟧, rope-swing: [1, 3] }`),
      code,
    );
    await expectMarked(ran(`${start}, total: 3:35, tried: { rope-swing: ⟦[1, 4]⟧ }`), code);
    await expectMarked(
      ran('date: 2026-10-05, runs: 9, finished: 2, tried: { crate-vault: ⟦[3, 10]⟧ }'),
      code,
    );
    expect(await codes('date: 2026-10-05, runs: 9, finished: 2, tried: { crate-vault: [3, 9] }')).toEqual([]);
  });

  it('counts a backup as a use of its own, and each use by its id', async () => {
    const route = exampleRoute.replace(
      '      - crate-vault\n',
      '      - { use: crate-vault, backup: lamp-hop }\n      - { use: crate-vault, id: second }\n',
    );
    const files = (tried: string) => ({
      ...ran(`${start}, total: 3:35, tried: { ${tried} }`),
      'a.route.yaml': route,
    });
    expect(await findingsOf(files('lamp-hop: [1, 2], crate-vault: [1, 2]'))).toEqual([]);
    await expectMarked(files('lamp-hop: ⟦[1, 3]⟧, crate-vault@second: ⟦[1, 2]⟧'), code);
  });
});

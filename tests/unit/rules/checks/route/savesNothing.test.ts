import { describe, expect, it } from 'vitest';
import { codes, harbor, route } from '../../builders/smallRoute.ts';
import { expectMarked } from '../../marked.ts';

describe('saves-nothing', () => {
  it('is found where a technique is good for nothing else', async () => {
    const nod = (rest: string) => `  nod: { difficulty: 2, saves: ${rest}, loses: 1 }\n`;
    await expectMarked(route(harbor('vault, hop, nod'), nod('⟦0⟧')), 'saves-nothing');
    expect(await codes(harbor('vault, hop, { use: nod, saves: 2 }'), nod('0'))).toEqual([]);
    expect(await codes(harbor('{ use: nod, take: key }, vault, { use: hop, with: key }'), nod('0'))).toEqual(
      [],
    );
  });
});

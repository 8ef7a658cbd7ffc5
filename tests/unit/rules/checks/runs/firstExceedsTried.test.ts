import { describe, expect, it } from 'vitest';
import { ran, start } from '../../builders/exampleRuns.ts';
import { expectMarked, findingsOf } from '../../marked.ts';

describe('first-exceeds-tried', () => {
  it('is found for landed and for tries, by the same name', async () => {
    const code = 'first-exceeds-tried';
    const run = (tried: string, first: string) =>
      ran(`${start}, total: 3:35, tried: { rope-swing: ${tried} }, first: { rope-swing: ${first} }`);
    await expectMarked(run('[1, 2]', '⟦[0, 3]⟧'), code);
    await expectMarked(run('[0, 2]', '⟦[1, 1]⟧'), code);
    expect(await findingsOf(run('[1, 2]', '[1, 2]'))).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { codes, ran, start } from '../../builders/exampleRuns.ts';
import { expectMarked, underlined } from '../../marked.ts';

describe('after-the-end', () => {
  const code = 'after-the-end';

  it('is found for times of the segment where it ended and of later ones, and for a final time', async () => {
    const late = `${start}, times: { harbor: 1:31, ⟦rope-yard⟧: 2:05 }, ended: { at: rope-yard, why: death }`;
    const [finding] = await expectMarked(ran(late), code);
    expect(finding?.related.map((place) => underlined(ran(late), place))).toEqual(['a.runs.yaml: ended']);
    await expectMarked(ran(`${start}, ⟦total⟧: 3:35, ended: { at: rope-yard, why: reset }`), code);
    expect(await codes(`${start}, times: { harbor: 1:31 }, ended: { at: rope-yard, why: death }`)).toEqual(
      [],
    );
  });

  it('says nothing of evenings in short', async () => {
    expect(await codes('date: 2026-10-05, runs: 9, ended: { harbor: { reset: 8 } }')).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { codes, log, session } from '../../builders/sessions.ts';
import { findingsOf, underlined } from '../../marked.ts';

describe('cycle-slower-than-written', () => {
  const code = 'cycle-slower-than-written';
  /** A cycle of 5 s is written: 300 attempts in 25 minutes. */
  const evenings = (...tries: number[]) =>
    log(...tries.map((n, at) => session(`2026-10-0${at + 1}T19:00`, `crate-vault 25; attempts: ${n}`)));

  it('is found from one and a half times the written cycle on, by the block in the middle', async () => {
    expect(await codes(evenings(200, 200, 200))).toEqual([]);
    const [finding] = await findingsOf(evenings(199, 100, 250));
    expect(finding?.code).toBe(code);
    expect(finding?.message).toContain('about every 7.5 s, but the route gives a cycle of 5 s');
    // The quickest block had 250 attempts, one every 6 s.
    expect(finding?.message).toContain('`reload: 2`');
    expect(finding?.fix).toMatchObject({ text: '2', onRequest: true });
    expect(underlined(evenings(), finding!)).toBe('a.route.yaml: practice');
  });

  it('is not found from two blocks only, nor from one that was interrupted', async () => {
    expect(await codes(evenings(90, 90))).toEqual([]);
    expect(await codes(evenings(290, 40, 280))).toEqual([]);
  });
});

describeFixOnSample('cycle-slower-than-written', [
  {
    file: 'route',
    from: 'attempt: 8, reload: 1, from: "bell tower, under',
    to: 'attempt: 3, reload: 1, from: "bell tower, under',
  },
]);

import { describe, expect, it } from 'vitest';
import { beyondLimits, withinLimits } from '../../../../helpers/largeRoutes.ts';
import { findingsOf, underlined } from '../../marked.ts';

/** What is found, with the text that it is found at. */
async function found(files: Readonly<Record<string, string>>): Promise<{ message: string; at: string }[]> {
  const findings = (await findingsOf(files)).filter(({ code }) => code === 'too-large');
  return findings.map((finding) => ({ message: finding.message, at: underlined(files, finding) }));
}

const keyWords = /: (?:segments|techniques|luck|miss|needs)$/;

describe('too-large', () => {
  it.each(beyondLimits)(
    'is found in $name, with what it is, where, and the limit',
    async ({ files, finding }) => {
      const [one, ...others] = await found(files);
      expect(one?.message.startsWith(finding), one?.message).toBe(true);
      expect(one?.at).toMatch(keyWords);
      expect(others).toEqual([]);
    },
  );

  it.each(withinLimits.filter(({ name }) => name !== 'logs'))(
    'is not found at the limit: $name',
    async ({ files }) => {
      expect(await found(files)).toEqual([]);
    },
  );

  it('is found in the log with which all logs of a route are too long', async () => {
    const session = (day: number, blocks: number): string =>
      `  - start: 2026-10-0${day}T10:00\n    blocks:\n${'      - { technique: t0, minutes: 1 }\n'.repeat(blocks)}`;
    const files = {
      'a.route.yaml': withinLimits[0]!.files['a.route.yaml']!,
      'a.practice.yaml': `route: a.route.yaml\nsessions:\n${session(1, 20_000)}`,
      'b.practice.yaml': `route: a.route.yaml\nsessions:\n${session(2, 30_001)}`,
    };
    expect((await found(files)).map(({ at, message }) => `${at}. ${message}`)).toEqual([
      'b.practice.yaml: sessions. The logs of this route have 50001 blocks. The model works with 50000 at most. Move the oldest years to a file of another name.',
    ]);
  });

  it('is found once where a route extends one that is too large', async () => {
    const files = {
      ...beyondLimits[0]!.files,
      'b.route.yaml': 'game: L\ncategory: c\nextends: a.route.yaml\n',
    };
    expect(await found(files)).toHaveLength(1);
  });
});

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import { rank } from '../../../server/src/model/index.ts';
import type { RankInput, RankRow, Ranking } from '../../../server/src/model/index.ts';
import { rankJson } from '../../../server/src/reports/rank/rankJson.ts';
import { rankReport } from '../../../server/src/reports/rank/rankReport.ts';
import { seeded } from '../../helpers/invented.ts';
import { inventRankInput } from '../../helpers/inventedRoutes.ts';
import { weekInputOf } from '../../helpers/weekInputs.ts';
import { withNewIds, shuffled } from '../../helpers/newIds.ts';

/** Numbers of a ranking as they can be compared: sums are taken in the order of ids, so renaming moves last digits. */
const rounded = (ranking: Ranking) => rankJson(rankReport(ranking, 0, new Map()));

/** Names that turn the order of the ids round, which is hardest on anything that leans on it. */
function namesFor(ids: readonly string[]): Map<string, string> {
  const sorted = [...ids].sort();
  return new Map(sorted.map((id, i) => [id, `x${String(900 - i)}`]));
}

/** What is compared of a row: all but the sentence and the order of names in a list, which go by the ids. */
function facts(row: RankRow, nameOf: (id: string) => string) {
  const numbers = Object.fromEntries(Object.entries(row).filter(([key]) => key !== 'reason'));
  const named = (ids: readonly string[]): string[] => ids.map(nameOf).sort();
  return {
    ...numbers,
    technique: nameOf(row.technique),
    opensWith: named(row.opensWith),
    openNeeds: named(row.openNeeds),
    package: row.package && {
      ...row.package,
      members: named(row.package.members),
      further: named(row.package.further),
    },
  };
}

function expectSameRows(other: Ranking, plain: Ranking, names: ReadonlyMap<string, string>): void {
  const same = (id: string): string => id;
  expect(rounded(other).rows.map((row) => facts(row, same))).toEqual(
    rounded(plain).rows.map((row) => facts(row, (id) => names.get(id) ?? id)),
  );
  const skipped = ({ skipped: list }: Ranking, nameOf: (id: string) => string): string[] =>
    list.map((one) => nameOf(one.technique)).sort();
  expect(skipped(other, same)).toEqual(skipped(plain, (id) => names.get(id) ?? id));
  expect(rounded(other).runner).toEqual(rounded(plain).runner);
}

describe('the sample', () => {
  interface RouteText {
    segments: { techniques?: unknown[] }[];
    techniques: Record<string, unknown>;
  }
  interface SampleFiles {
    route: RouteText;
    practice: { sessions: unknown[] };
    runs: { runs: unknown[] };
    week: unknown;
  }
  const folder = join(import.meta.dirname, '../../../samples');
  const read = (kind: string): unknown =>
    parse(readFileSync(join(folder, `lanternfall.${kind}.yaml`), 'utf8'));
  const sample = {
    route: read('route'),
    practice: read('practice'),
    runs: read('runs'),
    week: read('week'),
  } as SampleFiles;
  const ids = Object.keys(sample.route.techniques);

  async function ranked(files: SampleFiles): Promise<Ranking> {
    const texts = Object.entries(files).map(([kind, value]) => [
      `lanternfall.${kind}.yaml`,
      stringify(value),
    ]);
    const { weekInput } = await weekInputOf(Object.fromEntries(texts) as Record<string, string>);
    expect(weekInput.route.techniques).toHaveLength(ids.length);
    return rank({ ...weekInput, options: { ...weekInput.options, all: true } });
  }

  test('has the same rows, to every digit, with its techniques, uses, sessions and runs in any order', async () => {
    const plain = await ranked(sample);
    expect(plain.rows.length).toBeGreaterThan(20);
    for (const seed of [1, 2]) {
      const random = seeded(seed);
      const { route: written, practice, runs, week } = sample;
      const techniques = Object.fromEntries(shuffled(Object.entries(written.techniques), random));
      const segments = written.segments.map(({ techniques: uses, ...rest }) =>
        uses === undefined ? rest : { ...rest, techniques: shuffled(uses, random) },
      );
      const mixed: SampleFiles = {
        route: { ...written, segments, techniques },
        practice: { ...practice, sessions: shuffled(practice.sessions, random) },
        runs: { ...runs, runs: shuffled(runs.runs, random) },
        week,
      };
      expect(Object.keys(techniques)).not.toEqual(ids);
      expect(rounded(await ranked(mixed))).toEqual(rounded(plain));
    }
  });

  test('has the same rows under other names', async () => {
    const names = namesFor(ids);
    const files = withNewIds(sample, (id) => names.get(id)) as SampleFiles;
    expect(Object.keys(files.route.techniques).sort()).toEqual([...names.values()].sort());
    expectSameRows(await ranked(files), await ranked(sample), names);
  });
});

describe('invented routes', () => {
  const seeds = fc.integer({ min: 0, max: 1e6 });
  /** On grids of a quarter of the usual points: that nothing leans on names and order does not hang on them. */
  const invent = (seed: number): RankInput => {
    const input = inventRankInput(seed);
    return { ...input, constants: { ...input.constants, midwayStep: 0.5, lossStep: 0.4 } };
  };

  test('have the same rows with techniques, uses and log entries in any order', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const plain = invent(seed);
        const random = seeded(seed + 1);
        const mixed: RankInput = {
          ...plain,
          route: {
            ...plain.route,
            techniques: shuffled(plain.route.techniques, random).map((t) => ({
              ...t,
              needs: shuffled(t.needs, random),
            })),
            segments: plain.route.segments.map((s) => ({ ...s, uses: shuffled(s.uses, random) })),
          },
          logs: {
            practice: shuffled(plain.logs.practice, random),
            runs: shuffled(plain.logs.runs, random),
          },
        };
        expect(rounded(rank(mixed))).toEqual(rounded(rank(plain)));
      }),
      { numRuns: 25, seed: 1 },
    );
  });

  test('have the same rows under other names', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const plain = invent(seed);
        const names = namesFor(plain.route.techniques.map(({ id }) => id));
        const other = withNewIds(plain, (id) => names.get(id)) as RankInput;
        expectSameRows(rank(other), rank(plain), names);
      }),
      { numRuns: 25, seed: 2 },
    );
  });
});

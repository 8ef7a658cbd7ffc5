import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { findingsIn, uriOf, workspaceWith } from '../../../schemas/exampleFindings.ts';
import { rank } from '../../../server/src/model/index.ts';
import { findingDocs } from '../../../server/src/rules/findingDocs.ts';
import type { Finding } from '../../../server/src/rules/engine/findings.ts';
import { exampleFiles } from '../../../server/src/rules/engine/exampleFiles.ts';
import { buildModelInput } from '../../../server/src/queries/modelInput.ts';
import { runnerFilesOf } from '../../../server/src/workspace/runnerFiles.ts';

type Texts = Readonly<Record<string, string>>;

const sample: Texts = Object.fromEntries(
  ['route', 'practice', 'runs', 'week'].map((kind) => {
    const name = `lanternfall.${kind}.yaml`;
    return [name, readFileSync(new URL(`../../../samples/${name}`, import.meta.url), 'utf8')];
  }),
);

/** The files after the fixes of one code, each file from its end on. */
function mended(files: Texts, findings: readonly Finding[], code: string): Record<string, string> {
  const result: Record<string, string> = { ...files };
  const fixes = findings.flatMap((finding) => (finding.code === code ? (finding.fix ?? []) : []));
  for (const { uri, start, end, text } of fixes.sort((a, b) => b.start - a.start)) {
    const name = Object.keys(files).find((one) => uriOf(one) === uri)!;
    result[name] = result[name]!.slice(0, start) + text + result[name]!.slice(end);
  }
  return result;
}

/** What the ranking says, to the last digit: which technique, at what gain, and what is left out and why. */
async function ranking(files: Texts): Promise<unknown> {
  const [project] = (await workspaceWith(files)).groups().projects;
  const own = runnerFilesOf(project!);
  if ('runners' in own) throw new Error('the logs are of several runners');
  const { rows, skipped } = rank(buildModelInput(project!, own));
  return {
    rows: rows.map(({ technique, gainPerHour, hours, breakEven }) => ({
      technique,
      gainPerHour,
      hours,
      breakEven,
    })),
    skipped,
  };
}

const weight = { hint: 0, warning: 1, error: 2 } as const;

/** Whether `after` has no finding that `before` had not, and of each severity no more. */
function noWorse(before: readonly Finding[], after: readonly Finding[]): void {
  const known = new Set(before.map(({ code }) => code));
  expect(after.filter(({ code }) => !known.has(code)).map(({ code }) => code)).toEqual([]);
  for (const from of [0, 1, 2] as const) {
    const count = (list: readonly Finding[]) =>
      list.filter(({ severity }) => weight[severity] >= from).length;
    expect(count(after)).toBeLessThanOrEqual(count(before));
  }
}

/** Fixes of what is counted as it stands: they change what is written, and no number. */
const withoutEffect: ReadonlySet<string> = new Set([
  'former-id-in-use',
  'max-tries-without-retry',
  'restart-unwritten',
]);

/** A slip put into the sample that the fix takes back, or something that never counted. */
interface Slip {
  readonly code: string;
  readonly file: string;
  readonly from: string;
  readonly to: string;
}

const firstSession = /^ {2}- start: 2026-09-28T19:20\n(?: {4}.*\n)+/m.exec(
  sample['lanternfall.practice.yaml']!,
)![0];

const slips: readonly Slip[] = [
  { code: 'unknown-technique', file: 'practice', from: 'technique: wall-kick', to: 'technique: wall-kik' },
  { code: 'unknown-technique', file: 'week', from: 'lamp-clip: learning', to: 'lamp-clp: learning' },
  { code: 'unknown-segment', file: 'runs', from: 'at: tide-stairs', to: 'at: tide-stair' },
  { code: 'unknown-item', file: 'route', from: 'with: oil }', to: 'with: oill }' },
  { code: 'range-backwards', file: 'route', from: 'saves: 9..16, loses', to: 'saves: 16..9, loses' },
  {
    code: 'restart-unwritten',
    file: 'route',
    from: 'restart: 14 # the title bell cannot be skipped\n',
    to: '',
  },
  {
    code: 'lone-spot',
    file: 'route',
    from: '      - crate-vault\n      - { use: gate-roll',
    to: '      - { use: crate-vault, spot: gaet }\n      - { use: gate-roll',
  },
  {
    code: 'cycle-slower-than-written',
    file: 'route',
    from: 'attempt: 8, reload: 1, from: "bell tower, under',
    to: 'attempt: 3, reload: 1, from: "bell tower, under',
  },
  {
    code: 'max-tries-without-retry',
    file: 'route',
    from: '      - net-climb\n',
    to: '      - { use: net-climb, max_tries: 4 }\n',
  },
  {
    code: 'unreachable-retry',
    file: 'route',
    from: '      - tide-skip\n',
    to: '      - { use: tide-skip, backup: lamp-hop }\n',
  },
  { code: 'former-id-in-use', file: 'route', from: 'was: [rock-hop]', to: 'was: [rock-hop, wall-kick]' },
  { code: 'logged-twice', file: 'practice', from: firstSession, to: firstSession + firstSession },
  {
    code: 'duplicate-use',
    file: 'route',
    from: '      - net-climb\n',
    to: '      - net-climb\n      - net-climb\n',
  },
  { code: 'state-against-logs', file: 'week', from: 'oil-slick: learning', to: 'oil-slick: unlearned' },
];

/** Slips whose fix gives back the very text that stood there. */
const restored: ReadonlySet<string> = new Set([
  'unknown-technique',
  'unknown-segment',
  'unknown-item',
  'range-backwards',
  'logged-twice',
  'state-against-logs',
]);

describe('the fixes', () => {
  it('are tried on the sample for every code of a rule that has one', async () => {
    const fixable: string[] = [];
    for (const { code, page, by } of findingDocs()) {
      if (by === 'reading' || !page.failing) continue;
      const findings = await findingsIn(exampleFiles(page.failing), page.today);
      if (findings.some(({ fix }) => fix)) fixable.push(code);
    }
    expect([...new Set(slips.map(({ code }) => code))].sort()).toEqual(fixable);
  });
});

describe.each(findingDocs().filter(({ page }) => page.failing))(
  'the fix of $code, if it has one',
  ({ code, page }) => {
    it('leaves its example no worse', async () => {
      const files = exampleFiles(page.failing!);
      const before = await findingsIn(files, page.today);
      const fixes = before.flatMap(({ fix }) => fix ?? []);
      const after = await findingsIn(mended(files, before, code), page.today);
      noWorse(before, after);
      if (fixes.length > 0) expect(after.length).toBeLessThan(before.length);
    });

    it.each([...withoutEffect].filter((one) => one === code))('changes no number: %s', async () => {
      const files = exampleFiles(page.failing!);
      const after = mended(files, await findingsIn(files, page.today), code);
      expect(after).not.toEqual(files);
      expect(await ranking(after)).toEqual(await ranking(files));
    });
  },
);

describe('on the sample', () => {
  let untouched: unknown;

  beforeAll(async () => {
    untouched = await ranking(sample);
  }, 60_000);

  it.each(slips)(
    'the fix of $code in the $file file leaves check no worse',
    async ({ code, file, from, to }) => {
      const name = `lanternfall.${file}.yaml`;
      expect(sample[name]).toContain(from);
      const files = { ...sample, [name]: sample[name]!.replace(from, to) };
      const before = await findingsIn(files);
      expect(before.map((finding) => finding.code)).toContain(code);
      const after = mended(files, before, code);
      expect(after).not.toEqual(files);
      const left = await findingsIn(after);
      noWorse(before, left);
      expect(left.map((finding) => finding.code)).not.toContain(code);
      if (restored.has(code)) expect(after).toEqual(sample);
      if (withoutEffect.has(code)) expect(await ranking(after)).toEqual(await ranking(files));
    },
    60_000,
  );

  it('there is something to rank, so that a ranking unchanged says something', () => {
    const { rows } = untouched as { rows: unknown[] };
    expect(rows.length).toBeGreaterThan(5);
  });
});

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse, parseDocument } from 'yaml';
import { runners } from '../../../samples/generate.ts';
import { readRoute } from '../../../samples/simulation/route.ts';

type Count = readonly [landed: number, tries: number];

interface Session {
  readonly start: string;
  readonly blocks: readonly {
    readonly technique?: string;
    readonly minutes: number;
    readonly landed?: Count;
    readonly attempts?: number;
    readonly tape?: string;
  }[];
}

interface Run {
  readonly start?: string;
  readonly ended?: unknown;
  readonly total?: string;
  readonly times?: Readonly<Record<string, string>>;
}

const root = join(import.meta.dirname, '../../..');
const textOf = (folder: string, kind: string): string =>
  readFileSync(join(root, 'samples', folder, `lanternfall.${kind}.yaml`), 'utf8');
const sessionsOf = (folder: string): readonly Session[] =>
  (parse(textOf(folder, 'practice')) as { sessions: Session[] }).sessions;
const runsOf = (folder: string): readonly Run[] => (parse(textOf(folder, 'runs')) as { runs: Run[] }).runs;
const minutesOf = (folder: string): number =>
  sessionsOf(folder)
    .flatMap(({ blocks }) => blocks)
    .reduce((sum, { minutes }) => sum + minutes, 0);

const route = readRoute(textOf('', 'route'));
const others = runners.slice(1).map(({ name, folder }) => ({ name, folder }));
const firstDay = Date.parse('2026-09-28');
const weekOf = ({ start }: Session): number =>
  Math.floor((Date.parse(start.slice(0, 10)) - firstDay) / (7 * 24 * 60 * 60 * 1000));

describe.each(others)('the files of $name', ({ name, folder }) => {
  const sessions = sessionsOf(folder);

  it.each(['practice', 'runs', 'week'])('fit their schema, and name the runner and the route: %s', (kind) => {
    const ajv = new Ajv({ strict: false });
    for (const schema of ['common', kind])
      ajv.addSchema(
        JSON.parse(readFileSync(join(root, `schemas/${schema}.schema.json`), 'utf8')) as object,
        `${schema}.schema.json`,
      );
    const document = parseDocument(textOf(folder, kind));
    expect([...document.errors, ...document.warnings]).toEqual([]);
    const validate = ajv.getSchema(`${kind}.schema.json`);
    expect(validate?.(document.toJS()), JSON.stringify(validate?.errors)).toBe(true);
    expect(document.toJS()).toMatchObject({ runner: name, route: '../../lanternfall.route.yaml' });
  });

  it('hold six weeks of practice, on the days that the week file has minutes for', () => {
    const { days } = parse(textOf(folder, 'week')) as { days: Record<string, number> };
    expect([...new Set(sessions.map(weekOf))]).toEqual([0, 1, 2, 3, 4, 5]);
    for (const { start, blocks } of sessions) {
      const day = ['sun', 'mon', 'tue', 'wed', 'thu', 'fri', 'sat'][
        new Date(start.slice(0, 10)).getUTCDay()
      ]!;
      const minutes = blocks.reduce((sum, block) => sum + block.minutes, 0);
      expect(minutes, start).toBeLessThanOrEqual(days[day] ?? 0);
    }
    expect(runsOf(folder).length).toBeGreaterThan(12);
  });

  it('keep to four to six techniques a week, in blocks that have time for every attempt', () => {
    for (let week = 0; week < 6; week += 1) {
      const blocks = sessions.filter((session) => weekOf(session) === week).flatMap((one) => one.blocks);
      const set = new Set(blocks.flatMap(({ technique }) => technique ?? []));
      expect(set.size >= 4 && set.size <= 6, `week ${week + 1}: ${[...set].join(', ')}`).toBe(true);
      for (const { technique, minutes, landed, attempts, tape } of blocks) {
        const tries = Math.max(landed?.[1] ?? 0, attempts ?? 0, tape?.length ?? 0);
        expect(tries * (route.cycles.get(technique ?? '') ?? 0), technique).toBeLessThanOrEqual(minutes * 60);
        expect(minutes >= 20 && minutes <= 30).toBe(true);
      }
    }
  });

  it('hold runs that reach the end', () => {
    expect(runsOf(folder).filter(({ start, ended }) => start && ended === undefined).length).toBeGreaterThan(
      5,
    );
  });
});

describe('the runners of the sample', () => {
  it('have at least 8 techniques that three or more of them practised, and each others besides', () => {
    const practisedBy = new Map<string, Set<string>>();
    for (const { name, folder } of runners)
      for (const { technique } of sessionsOf(folder).flatMap(({ blocks }) => blocks))
        if (technique !== undefined)
          practisedBy.set(technique, (practisedBy.get(technique) ?? new Set()).add(name));
    const shared = [...practisedBy.values()].filter((names) => names.size >= 3);
    expect(shared.length).toBeGreaterThanOrEqual(8);
    expect(practisedBy.size).toBeGreaterThan(shared.length + 5);
  });

  it('differ in pace and in the time that they have', () => {
    const [oda, pim, tam] = others.map(({ folder }) => minutesOf(folder));
    expect(oda! > 1.3 * pim! && pim! > 1.3 * tam!).toBe(true);
    // Over all counted blocks of a technique.
    const rate = (folder: string, technique: string): number => {
      const counts = sessionsOf(folder)
        .flatMap(({ blocks }) => blocks)
        .flatMap((block) => (block.technique === technique && block.landed ? [block.landed] : []));
      return (
        counts.reduce((sum, [landed]) => sum + landed, 0) / counts.reduce((sum, [, tries]) => sum + tries, 0)
      );
    };
    for (const technique of ['barrow-boost', 'lens-align', 'stair-weave'])
      expect(rate('runners/oda', technique), technique).toBeGreaterThan(rate('runners/tam', technique) + 0.1);
  });
});

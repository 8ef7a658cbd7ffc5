import { describe, expect, it } from 'vitest';
import { expectMarked, findingsOf, fixed, plainRoute, underlined } from './marked.ts';

/** A route with these techniques, every one of them used. */
function routeOf(
  techniques: Readonly<Record<string, string>>,
  uses = Object.keys(techniques).join(', '),
): string {
  const lines = Object.entries(techniques).map(
    ([id, rest]) => `  ${id}: { difficulty: 3, saves: 2, ${rest} }\n`,
  );
  return `game: Lanternfall\ncategory: any%\nsegments:\n  - { id: harbor, time: 1:30, techniques: [${uses}] }\ntechniques:\n${lines.join('')}`;
}

describe('duplicate-segment', () => {
  it('is found at the second, with the first beside it', async () => {
    const files = {
      'a.route.yaml':
        'game: L\ncategory: c\nsegments:\n  - { id: pier, time: 5 }\n  - { id: quay, time: 5 }\n  - { time: 6, id: ⟦pier⟧ }\n',
    };
    const [finding] = await expectMarked(files, 'duplicate-segment');
    expect(finding?.severity).toBe('error');
    expect(finding?.related.map(({ start }) => start)).toEqual([files['a.route.yaml'].indexOf('pier')]);
    await expectMarked(
      { 'a.route.yaml': files['a.route.yaml'].replace('⟦pier⟧', 'gate') },
      'duplicate-segment',
    );
  });
});

describe('duplicate-use', () => {
  const route = (...uses: string[]) => plainRoute.replace('[crate-vault]', `[${uses.join(', ')}]`);

  it('is found in one segment or in two, and the fix gives each use an id', async () => {
    const files = {
      'a.route.yaml': `${route('crate-vault', '⟦crate-vault⟧', '⟦crate-vault⟧')}`.replace(
        'techniques:\n',
        'techniques:\n',
      ),
    };
    await expectMarked(files, 'duplicate-use');
    const mended = await fixed(files);
    expect(mended['a.route.yaml']).toContain(
      '[crate-vault, { use: crate-vault, id: second }, { use: crate-vault, id: third }]',
    );
    expect(await findingsOf(mended)).toEqual([]);
  });

  it('is found across segments and for ids given twice; no fix where more is written', async () => {
    const text = `${route('crate-vault', '{ use: crate-vault, id: roof }')}`.replace(
      'techniques:\n  crate',
      '  - { id: pier, time: 60, techniques: [{ use: ⟦crate-vault⟧, saves: 1 }, { use: crate-vault, id: ⟦roof⟧ }] }\ntechniques:\n  crate',
    );
    const findings = await expectMarked({ 'a.route.yaml': text }, 'duplicate-use');
    expect(findings.map(({ fix }) => fix)).toEqual([undefined, undefined]);
    expect(findings[0]?.message).toContain('crate-vault@second');
  });

  it('is not found where ids tell uses apart', async () => {
    await expectMarked(
      { 'a.route.yaml': route('crate-vault', '{ use: crate-vault, id: second }') },
      'duplicate-use',
    );
  });
});

describe('needs-cycle', () => {
  it('shows the loop from its first member on, with each step beside it', async () => {
    const files = {
      'a.route.yaml': routeOf({
        free: 'needs: [c]',
        b: 'needs: [free-too, ⟦c⟧]',
        c: 'needs: [d]',
        d: 'needs: [free-too, b]',
        'free-too': 'loses: 1',
      }),
    };
    const [finding] = await expectMarked(files, 'needs-cycle');
    expect(finding?.message).toBe(
      'These techniques need each other in a circle: b → c → d → b. Remove one of these needs.',
    );
    expect(finding?.related.map((place) => `${underlined(files, place)}, ${place.message}`)).toEqual([
      'a.route.yaml: d, `c` needs `d`.',
      'a.route.yaml: b, `d` needs `b`.',
    ]);
  });

  it('reports each loop once, and a technique that needs itself', async () => {
    const route = routeOf({
      a: 'needs: [⟦b⟧]',
      b: 'needs: [a]',
      c: 'needs: [⟦c⟧]',
      d: 'needs: [⟦e⟧]',
      e: 'needs: [a, d]',
    });
    const findings = await expectMarked({ 'a.route.yaml': route }, 'needs-cycle');
    expect(findings[1]?.message).toContain('`c` needs itself');
  });

  it('is reported in the base only where a route extends one with a loop', async () => {
    const base = routeOf({ a: 'needs: [⟦b⟧]', b: 'needs: [a]' });
    await expectMarked(
      { 'a.route.yaml': base, 'b.route.yaml': 'game: L\ncategory: c\nextends: a.route.yaml\n' },
      'needs-cycle',
    );
  });

  it('names only some members of a long loop', async () => {
    const n = 300;
    const ids = Array.from({ length: n }, (_, at) => `t${at}`);
    const route = routeOf(Object.fromEntries(ids.map((id, at) => [id, `needs: [t${(at + 1) % n}]`])), '');
    const found = (await findingsOf({ 'a.route.yaml': route })).filter(({ code }) => code === 'needs-cycle');
    expect(found).toHaveLength(1);
    expect(found[0]?.message).toContain('t0 → t1 → ');
    expect(found[0]?.message.length).toBeLessThan(200);
  });

  it('is not found where two paths lead to one technique', async () => {
    await expectMarked(
      { 'a.route.yaml': routeOf({ a: 'needs: [b, c]', b: 'needs: [d]', c: 'needs: [d]', d: 'loses: 1' }) },
      'needs-cycle',
    );
  });
});

describe('saves-too-much', () => {
  const route = (saves: string, use = '', extra = '') =>
    `game: L\ncategory: c\nsegments:\n  - id: harbor\n    time: 20\n    techniques: [${use || 'vault'}${extra}]\ntechniques:\n  vault: { difficulty: 3, saves: ${saves} }\n  clip: { difficulty: 3, saves: 12 }\n`;

  it('is found at the use, with the technique and the time beside it', async () => {
    const files = { 'a.route.yaml': route('21', '⟦vault⟧', ', clip') };
    const [finding] = await expectMarked(files, 'saves-too-much');
    expect(finding?.related.map((place) => underlined(files, place))).toEqual([
      'a.route.yaml: 21',
      'a.route.yaml: 20',
    ]);
  });

  it('is found at the saving where the use has its own, by the middle of a range', async () => {
    await expectMarked(
      { 'a.route.yaml': route('2', '{ use: vault, saves: ⟦18..24⟧ }', ', clip') },
      'saves-too-much',
    );
    await expectMarked(
      { 'a.route.yaml': route('2', '{ use: vault, saves: 14..24, spot: a }', ', { use: clip, spot: a }') },
      'saves-too-much',
    );
  });

  it('is found at the time where savings are too much together, but not for those that exclude each other', async () => {
    const together = route('9', '', ', clip').replace('time: 20', 'time: ⟦20⟧');
    const [finding] = await expectMarked({ 'a.route.yaml': together }, 'saves-too-much');
    expect(finding?.message).toContain('save 21 s');
    await expectMarked(
      { 'a.route.yaml': route('9', '{ use: vault, spot: a }', ', { use: clip, spot: a }') },
      'saves-too-much',
    );
  });
});

describe('range-backwards', () => {
  it('is found in techniques and uses, and the fix turns it round', async () => {
    const files = {
      'a.route.yaml': `game: L
category: c
segments:
  - { id: harbor, time: 90, techniques: [{ use: vault, saves: ⟦16..9⟧, loses: 2..3 }] }
techniques:
  vault:
    difficulty: 3
    saves: ⟦"4.5..4"⟧
    loses: ⟦3..1⟧ # from recordings
`,
    };
    await expectMarked(files, 'range-backwards');
    const mended = await fixed(files);
    expect(mended['a.route.yaml']).toContain('saves: 9..16, loses: 2..3');
    expect(mended['a.route.yaml']).toContain('saves: 4..4.5\n    loses: 1..3 # from recordings');
    expect(await findingsOf(mended)).toEqual([]);
  });
});

describe('miss-chances', () => {
  const route = (miss: string, key = 'miss') => routeOf({ vault: `${key}: ${miss}` });

  it('is found where shares do not add up to 1', async () => {
    const [finding] = await expectMarked(
      { 'a.route.yaml': route('[{ chance: 0.5, loses: 2 }, { chance: 0.3, ends_run: true }]', '⟦miss⟧') },
      'miss-chances',
    );
    expect(finding?.message).toContain('0.8');
    await expectMarked(
      { 'a.route.yaml': routeOf({ vault: 'loses: 1' }, '{ use: vault, ⟦miss⟧: [{ chance: 0.9 }] }') },
      'miss-chances',
    );
  });

  it('is not found for a whole, nor for rounded thirds', async () => {
    await expectMarked({ 'a.route.yaml': route('[{ chance: 0.7 }, { chance: 0.3 }]') }, 'miss-chances');
    await expectMarked(
      { 'a.route.yaml': route('[{ chance: 0.33 }, { chance: 0.33 }, { chance: 0.33 }]') },
      'miss-chances',
    );
  });
});

describe('slow-cycle', () => {
  // Over 30 s from attempt to attempt, what short-term memory holds has faded (common practice, no source).
  it('is found over 30 s, at the longer part', async () => {
    const way = routeOf({ vault: 'practice: { attempt: 6, reload: ⟦24.5⟧ }' });
    const [finding] = await expectMarked({ 'a.route.yaml': way }, 'slow-cycle');
    expect(finding?.message).toContain('every 30.5 s');
    expect(finding?.severity).toBe('warning');
    await expectMarked({ 'a.route.yaml': routeOf({ vault: 'practice: { attempt: ⟦40⟧ }' }) }, 'slow-cycle');
    await expectMarked(
      { 'a.route.yaml': routeOf({ vault: 'practice: { attempt: 6, reload: 24 }' }) },
      'slow-cycle',
    );
  });
});

describe('technique-unused', () => {
  it('is found where nothing used needs it', async () => {
    const route = `game: L
category: c
segments:
  - { id: harbor, time: 90, techniques: [{ use: top, backup: spare }] }
techniques:
  top: { difficulty: 3, saves: 2, needs: [middle] }
  middle: { difficulty: 3, saves: 2, needs: [bottom] }
  bottom: { difficulty: 3, saves: 2 }
  spare: { difficulty: 3, saves: 2 }
  ⟦idle⟧: { difficulty: 3, saves: 2, needs: [bottom] }
`;
    const [finding] = await expectMarked({ 'a.route.yaml': route }, 'technique-unused');
    expect(finding?.severity).toBe('hint');
  });

  it('is not found in a file of techniques alone, nor in the base of a route', async () => {
    const library = 'game: L\ncategory: c\ntechniques:\n  vault: { difficulty: 3, saves: 2 }\n';
    const category = 'game: L\ncategory: d\nextends: a.route.yaml\nsegments: [{ id: pier, time: 9 }]\n';
    await expectMarked({ 'a.route.yaml': library, 'b.route.yaml': category }, 'technique-unused');
  });
});

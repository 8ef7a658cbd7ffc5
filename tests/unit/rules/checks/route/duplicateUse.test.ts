import { describe, expect, it } from 'vitest';
import { describeFixOnSample } from '../../builders/fixOnSample.ts';
import { expectMarked, findingsOf, fixed, plainRoute } from '../../marked.ts';

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

describeFixOnSample('duplicate-use', [
  { file: 'route', from: '      - net-climb\n', to: '      - net-climb\n      - net-climb\n' },
]);

import type { CodeAction, TextDocumentEdit } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { codeActionProvider } from '../../../../server/src/lsp/actions/codeActions.ts';
import { neverStopped, edited, harborRoute, openEditor, updateEstimates, uriOf } from '../editor.ts';

type Files = Record<string, string>;

/** The actions at the cursor, and what the files are once one is taken. */
async function at(files: Files, only?: string[]) {
  const editor = await openEditor(files);
  Object.assign(editor.client, { createsFiles: true });
  const range = { start: editor.position, end: editor.position };
  const context = { diagnostics: [], ...(only && { only }) };
  const actions = await codeActionProvider(editor.services)(
    { ...editor.params, range, context },
    neverStopped,
  );
  return {
    titles: actions.map(({ title }) => title),
    /** The titles once there are estimates of the same files. */
    titlesLater: async (): Promise<string[]> => {
      await updateEstimates(editor);
      const later = await codeActionProvider(editor.services)(
        { ...editor.params, range, context },
        neverStopped,
      );
      editor.services.checks.dispose();
      return later.map(({ title }) => title);
    },
    take: (title: string | RegExp): Files => {
      const action = actions.find((one) => one.title.search(title) === 0);
      expect(action, `${String(title)} among ${actions.map((one) => one.title).join('; ')}`).toBeDefined();
      return applied(action!, (name) => (name in files ? editor.text(name) : ''));
    },
  };
}

function applied({ edit }: CodeAction, textOf: (name: string) => string): Files {
  const changes = edit!.documentChanges!.filter((change): change is TextDocumentEdit => 'edits' in change);
  return Object.fromEntries(
    changes.map(({ textDocument, edits }) => {
      const name = textDocument.uri.slice(uriOf('').length);
      return [name, edited(textOf(name), edits as Parameters<typeof edited>[1])];
    }),
  );
}

const inRoute = (from: string, others: Files = {}, only?: string[]) => {
  const plain = from.replace('‸', '');
  expect(harborRoute).toContain(plain);
  return at({ 'a.route.yaml': harborRoute.replace(plain, from), ...others }, only);
};

describe('an id that nothing has', () => {
  it('is replaced by the nearest name, or defined', async () => {
    const text = harborRoute.replace('- crate-vault', '- crate-va‸lt');
    const { titles, take } = await at({ 'a.route.yaml': text });
    expect(titles.slice(0, 2)).toEqual(['Change to “crate-vault”', 'Define “crate-valt” in the route']);
    expect(take('Change')['a.route.yaml']).toBe(harborRoute);
    expect(take('Define')['a.route.yaml']).toBe(
      `${text.replace('‸', '')}  crate-valt: # a guess: correct these numbers\n    difficulty: 5\n    saves: 1\n    loses: 1\n`,
    );
  });

  it('is defined from a log, in the route, whatever way its techniques are written', async () => {
    const log =
      'route: a.route.yaml\nsessions:\n  - { start: 2026-10-05, blocks: [{ technique: net-‸climb, minutes: 20 }] }\n';
    const head = 'game: L\ncategory: x\n';
    for (const [before, after] of [
      [
        head,
        `${head}techniques:\n  net-climb: # a guess: correct these numbers\n    difficulty: 5\n    saves: 1\n    loses: 1\n`,
      ],
      [
        `${head}techniques: {}\n`,
        `${head}techniques: { net-climb: { difficulty: 5, saves: 1, loses: 1 } }\n`,
      ],
      [
        `${head}techniques: { a: { difficulty: 1, saves: 1, loses: 1 } }\n`,
        `${head}techniques: { a: { difficulty: 1, saves: 1, loses: 1 }, net-climb: { difficulty: 5, saves: 1, loses: 1 } }\n`,
      ],
      [
        `${head}techniques:\n    a:\n        difficulty: 1\n        saves: 1\n        notes: |\n            end\n\n# end\n`,
        `${head}techniques:\n    a:\n        difficulty: 1\n        saves: 1\n        notes: |\n            end\n    net-climb: # a guess: correct these numbers\n      difficulty: 5\n      saves: 1\n      loses: 1\n\n# end\n`,
      ],
    ] as const) {
      const { take } = await at({ 'a.practice.yaml': log, 'a.route.yaml': before });
      expect(take('Define')).toEqual({ 'a.route.yaml': after });
    }
  });
});

describe('the state of a technique', () => {
  it('is set in the week file: all that it does not have where there are no estimates yet', async () => {
    const week = 'route: a.route.yaml\nstates:\n  lamp-clip: learning # slowly\n';
    const { titles, take } = await inRoute('use: lamp‸-clip', { 'a.week.yaml': week });
    expect(titles).toEqual(['Put Lamp clip in the run', 'Put Lamp clip aside']);
    expect(take('Put Lamp clip in')).toEqual({ 'a.week.yaml': week.replace('learning', 'in-run') });
  });

  it('is set in a new week file where there is none, if the editor can create one', async () => {
    const { take } = await inRoute('use: lamp‸-clip');
    expect(take('Take up Lamp clip')).toEqual({
      'a.week.yaml': 'route: a.route.yaml\nstates:\n  lamp-clip: learning\n',
    });
  });
});

describe('the state of a technique, by where it stands', () => {
  const day = (n: number) => `2026-10-${String(n).padStart(2, '0')}T19:00`;
  const practised = (landed: number, minutes = 25) =>
    `route: a.route.yaml\nsessions:\n${[5, 6, 7]
      .map(
        (n) =>
          `  - { start: ${day(n)}, blocks: [{ technique: lamp-hop, minutes: ${minutes}, landed: [${landed}, 100] }] }\n`,
      )
      .join('')}`;
  const tried = (landed: number) =>
    `route: a.route.yaml\nruns:\n${[1, 2, 3, 4]
      .map((n) => `  - { start: ${day(n)}, started: 9, tried: { lamp-hop: [${landed}, 9] } }\n`)
      .join('')}`;
  const inRun = 'Put lamp-hop in the run';
  const takeUp = 'Take up lamp-hop';
  const back = 'Take lamp-hop out of the run to practise it';
  const aside = 'Put lamp-hop aside';

  it.each<[string, Files, string[]]>([
    ['not begun', {}, [inRun, takeUp]],
    ['being learned', { 'a.practice.yaml': practised(20) }, [inRun, aside]],
    ['in the run, not tried there', { 'a.practice.yaml': practised(95) }, [inRun]],
    ['in the run, tried there', { 'a.runs.yaml': tried(8) }, [back, aside]],
    ['to work on again', { 'a.runs.yaml': tried(0) }, [back, aside]],
    [
      'put aside',
      {
        'a.practice.yaml': practised(20),
        'a.week.yaml': 'route: a.route.yaml\nstates: { lamp-hop: unlearned }\n',
      },
      [inRun, takeUp],
    ],
    ['left out', { 'a.week.yaml': 'route: a.route.yaml\nleave_out: [lamp-hop]\n' }, []],
  ])('%s', async (_, files, wanted) => {
    const { titlesLater } = await inRoute('  lamp-hop‸: {', files);
    const titles = await titlesLater();
    expect(titles.filter((title) => /^(Put|Take) /.test(title))).toEqual(wanted);
  });
});

describe('times', () => {
  const convert = async (from: string) => {
    const text = `game: L\ncategory: x\nsegments:\n  - { id: a, time: ${from} }\n`;
    const { titles, take } = await at({ 'a.route.yaml': text });
    const title = titles.find((one) => one.startsWith('Write as'));
    return title === undefined ? null : /time: (.*) \}/.exec(take(title)['a.route.yaml']!)![1];
  };

  it('are written as on a clock or in seconds, to the same digit and in the same quotes', async () => {
    expect(await convert('9‸2.4')).toBe('1:32.4');
    expect(await convert('1:3‸2.40')).toBe('92.40');
    expect(await convert('"1:0‸1:00"')).toBe('"3660"');
    expect(await convert("'3‸660'")).toBe("'1:01:00'");
    expect(await convert('9‸2')).toBe('1:32');
  });

  it('are left alone where nothing would change, and where no time stands', async () => {
    expect(await convert('4‸2.5')).toBeNull();
    expect(await convert('so‸on')).toBeNull();
    expect((await inRoute('difficulty: 6‸')).titles.join()).not.toContain('Write as');
  });
});

describe('a spot shared with others', () => {
  const shared = harborRoute.replace('- crate-vault', '- { use: crate-vault, spot: gate }');

  it('is left for one of its own', async () => {
    const text = shared.replace('use: lamp-clip,', 'use: lamp‸-clip,');
    const { take } = await at({ 'a.route.yaml': text });
    expect(take('Move this use')['a.route.yaml']).toBe(
      shared.replace('second, spot: gate', 'second, spot: lamp-clip'),
    );
  });

  it('is not offered to a use that is alone at its spot', async () => {
    expect((await inRoute('use: lamp‸-clip,')).titles.join()).not.toContain('Move');
  });
});

describe('a use that is an id alone', () => {
  it('is written out as a map', async () => {
    const { take } = await inRoute('- crate‸-vault');
    expect(take('Write this use out')['a.route.yaml']).toBe(
      harborRoute.replace('- crate-vault', '- { use: crate-vault }'),
    );
    expect((await inRoute('needs: [lamp‸-hop]')).titles.join()).not.toContain('Write this use');
  });
});

describe('practice of a technique', () => {
  const blocks = (...list: string[]) =>
    `route: a.route.yaml\nsessions:\n${list.map((block) => `  - { start: 2026-10-05, blocks: [{ technique: lamp-hop, minutes: 20, ${block} }] }\n`).join('')}`;

  it('is filled in from the log: the median of the blocks', async () => {
    // 20 minutes are 1200 s: 6, 8 and 12 s an attempt.
    const log = blocks('landed: [20, 200]', 'attempts: 150', 'attempts: 100');
    const { titles, take } = await inRoute('  lamp‸-hop: {', { 'a.practice.yaml': log });
    expect(titles).toContain('Fill in “practice” from the log: 8 s an attempt with the way back (3 blocks)');
    expect(take('Fill in')['a.route.yaml']).toContain(
      'lamp-hop: { difficulty: 2, saves: 1.5, loses: 1, practice: { attempt: 5, reload: 3 } }',
    );
  });

  it('keeps an attempt that is written, and goes below a block', async () => {
    const log = blocks('attempts: 150', 'attempts: 150', 'attempts: 150').replaceAll('lamp-hop', 'lamp-clip');
    const written = harborRoute.replace(
      '    needs: [lamp-hop]\n',
      '    needs: [lamp-hop]\n    practice:\n      attempt: 6.5\n',
    );
    const { take } = await at({
      'a.route.yaml': written.replace('  lamp-clip:\n', '  lamp‸-clip:\n'),
      'a.practice.yaml': log,
    });
    expect(take('Fill in')['a.route.yaml']).toBe(
      written.replace('attempt: 6.5\n', 'attempt: 6.5\n      reload: 1.5\n'),
    );
  });

  it('is not offered on little evidence, or where it is written', async () => {
    const two = await inRoute('  lamp‸-hop: {', { 'a.practice.yaml': blocks('attempts: 9', 'attempts: 9') });
    expect(two.titles.join()).not.toContain('Fill in');
    const log = blocks('attempts: 150', 'attempts: 150', 'attempts: 150');
    const text = harborRoute.replace('  lamp-hop: { ', '  lamp‸-hop: { practice: { reload: 1 }, ');
    expect((await at({ 'a.route.yaml': text, 'a.practice.yaml': log })).titles.join()).not.toContain(
      'Fill in',
    );
  });
});

describe('all fixes at once', () => {
  const broken = harborRoute.replace('- crate-vault', '- crate-va‸lt').replace('time: 2:08', 'tiem: 2:08');

  it('are made where the editor asks for them by name, as when a file is saved', async () => {
    for (const only of ['source.fixAll', 'source.fixAll.routewright', 'source']) {
      const { titles, take } = await at({ 'a.route.yaml': broken }, [only]);
      expect(titles).toEqual(['Fix all that can be fixed']);
      expect(take('Fix all')['a.route.yaml']).toBe(harborRoute);
    }
  });

  it('are not among what is offered unasked, nor where there is nothing to fix', async () => {
    expect((await at({ 'a.route.yaml': broken })).titles.join()).not.toContain('Fix all');
    expect((await at({ 'a.route.yaml': harborRoute }, ['source.fixAll'])).titles).toEqual([]);
    expect((await at({ 'a.route.yaml': broken }, ['source.organizeImports'])).titles).toEqual([]);
  });
});

describe('letting a finding stand', () => {
  const slow = harborRoute.replace('lamp-hop: { ', 'lamp-hop: { practice: { attempt: 20, reload: 4‸0 }, ');

  it('writes a comment above its line, or at the top, whose reason is still to be written', async () => {
    const text = slow.replace('‸', '');
    const editor = await openEditor({ 'a.route.yaml': text });
    const [finding] = editor.services.findings.of(editor.uri);
    const place = editor.services.positions.range(editor.uri, finding!).start;
    const actions = await codeActionProvider(editor.services)(
      {
        ...editor.params,
        range: { start: place, end: place },
        context: { diagnostics: [], only: ['quickfix'] },
      },
      neverStopped,
    );
    const here = actions.find(({ title }) => title === 'Allow “slow-cycle” here, with a reason')!;
    const line = text.split('\n').findIndex((row) => row.startsWith('  lamp-hop:'));
    const rows = text.split('\n');
    rows.splice(line, 0, '  # allow slow-cycle: ');
    expect(applied(here, () => text)['a.route.yaml']).toBe(rows.join('\n'));
    const wide = actions.find(({ title }) => title.includes('in this file'))!;
    expect(applied(wide, () => text)['a.route.yaml']).toBe(`# allow slow-cycle in this file: \n${text}`);
  });

  it('is not offered for an error', async () => {
    expect(
      (await at({ 'a.route.yaml': harborRoute.replace('- crate-vault', '- crate-va‸lt') })).titles.join(),
    ).not.toContain('Allow');
  });
});

import { runToCompletion } from '../../../../server/src/incremental/steps.ts';
import type { MarkupContent } from 'vscode-languageserver';
import { describe, expect, it, vi } from 'vitest';
import { dailyBlocks } from '../../../../server/src/queries/dailyBlocks.ts';
import { hoverProvider } from '../../../../server/src/lsp/editing/hover.ts';
import { buildRateCurve } from '../../../../server/src/model/rank/rateCurve.ts';
import { standingSentence } from '../../../../server/src/queries/standingText.ts';
import { formatPercent } from '../../../../server/src/text/format.ts';
import { poolText } from '../../../helpers/poolFiles.ts';
import { harborRoute, openEditor, textIn, type Editor } from '../editor.ts';

async function hoverAt(files: Record<string, string>, today?: string) {
  const editor = await openEditor(files, today === undefined ? {} : { today });
  const found = runToCompletion(hoverProvider(editor.services)(editor.params));
  const name = editor.uri.split('/').at(-1)!;
  return {
    editor,
    text: (found?.contents as MarkupContent | undefined)?.value ?? '',
    word: found?.range ? textIn(editor.text(name), found.range) : undefined,
  };
}

/** The head of a hover, and the first plain line below it. */
function headOf(text: string): (string | undefined)[] {
  const [head, plain] = text.split('\n\n');
  return [head, plain?.split('  \n')[0]];
}

const projectIn = (editor: Editor) => editor.services.workspace.projectOf(editor.uri)!;
const ownIn = (editor: Editor) => ({
  runner: undefined,
  practice: projectIn(editor).practice,
  runs: [],
  week: undefined,
});

const practice = `route: a.route.yaml
sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [61, 104] }
  - start: 2026-10-06T19:30
    blocks:
      - { technique: crate-‸vault, minutes: 25, landed: [80, 110] }
`;

describe('hover on a technique', () => {
  it('says what other runners found out, where the route has a pool', async () => {
    const pool = (likeliest: number) =>
      poolText({
        route: 'a.route.yaml',
        techniques: { 'crate-vault': { runners: 9, difficulty: 3, likeliest } },
      });
    const files = { 'a.route.yaml': harborRoute, 'a.practice.yaml': practice };
    expect((await hoverAt(files)).text).not.toContain('other runner');
    const later = (await hoverAt({ ...files, 'a.pool.yaml': pool(18) })).text;
    expect(later).toMatch(
      /From 9 other runners: a usual runner lands half of the tries in practice after about \d+ min\. Rated 3, it comes like \d\.\d\./,
    );
    const asRated = (await hoverAt({ ...files, 'a.pool.yaml': pool(12) })).text;
    expect(asRated).toContain('It comes as it is rated: 3.');
    const unlogged = { 'a.route.yaml': harborRoute.replace('  crate-vault:', '  crate-‸vault:') };
    expect((await hoverAt({ ...unlogged, 'a.pool.yaml': pool(12) })).text).toContain(
      'No attempts logged: the difficulty, other runners and what is known of the runner give the numbers.',
    );
    const off = { 'a.week.yaml': 'route: a.route.yaml\ndays: { mon: 60 }\nmodel: { pool: off }\n' };
    expect((await hoverAt({ ...files, ...off, 'a.pool.yaml': pool(18) })).text).not.toContain('other runner');
  });

  it('says the rates, the break-even and the gain that the model gives, and what they rest on', async () => {
    const { editor, text, word } = await hoverAt({
      'a.route.yaml': harborRoute,
      'a.practice.yaml': practice.replace('[61, 104]', '[11, 104]').replace('[80, 110]', '[20, 110]'),
    });
    expect(word).toBe('crate-vault');
    // The head says where it stands; the first line below it says why, with the numbers of the model.
    const { standing } = runToCompletion(
      editor.services.estimates.assessment(projectIn(editor), ownIn(editor), ['crate-vault']),
    ).get('crate-vault')!;
    expect(standing.kind).toBe('learning');
    const [head, why] = headOf(text);
    expect(head).toBe('**Crate vault** · difficulty 3 of 10 · being learned · as of 2026-10-07');
    expect(why).toBe(standingSentence(standing, (id) => id));
    expect(why).toMatch(
      /^Practised on 2 days \(50 min\) so far: the chance that trying it in runs pays is \d+ %\.$/,
    );
    const project = editor.services.workspace.projectOf(editor.uri)!;
    const own = { runner: undefined, practice: project.practice, runs: [], week: undefined };
    const now = runToCompletion(editor.services.estimates.assessment(project, own, ['crate-vault'])).get(
      'crate-vault',
    )!;
    expect(text).toContain(`| Lands in practice now | ${formatPercent(now.practiceNow.mean)} (`);
    expect(text).toContain(`| Lands in a run now | ${formatPercent(now.runNow.mean)} (`);
    // loses / (saves + loses) = 1 / (3 + 1)
    expect(text).toContain('| Break-even in a run | 25 %;');
    expect(text).toMatch(/\| Practice gains \| \S+ to \S+ s per hour, \S+ on average \|/);
    expect(text).toMatch(/\| Best stop \| after .* of 25 min\) \|/);
    expect(text).toContain('From 2 practice days (31 of 214 landed).');
  });

  it('says why, where the mean gain is above its range', async () => {
    const days = [1, 2, 3, 4, 5, 6].map(
      (day) =>
        `  - { start: 2026-07-0${day}T19:30, blocks: [{ technique: crate-vault, minutes: 20, landed: [8, 40] }] }`,
    );
    const { text } = await hoverAt(
      {
        'a.route.yaml': harborRoute
          .replace('saves: 3, loses: 1', 'saves: 2, loses: 2')
          .replace('  crate-vault:', '  crate-‸vault:'),
        'a.practice.yaml': `route: a.route.yaml\nsessions:\n${days.join('\n')}\n`,
      },
      '2026-07-07',
    );
    expect(text).toContain(
      '| Practice gains | 0.0 to 0.0 s per hour, 0.1 on average: mostly less, seldom much more |',
    );
  });

  it('says of a competent technique that it is in the run, and has no gain from practice', async () => {
    const { text } = await hoverAt({ 'a.route.yaml': harborRoute, 'a.practice.yaml': practice });
    const [head, why] = headOf(text);
    expect(head).toBe('**Crate vault** · difficulty 3 of 10 · in the run · as of 2026-10-07');
    expect(why).toMatch(
      /^The chance that trying it in runs pays is \d+ %: it lands \d+ % in runs and pays from 25 %\.$/,
    );
    expect(text).toContain('| Not ranked | It is in the run already, and runs keep it up. |');
    expect(text).toContain('From 2 practice days (141 of 214 landed).');
  });

  it('waits for no ranking of the whole route, and is worked out once for the same files', async () => {
    const { editor, text } = await hoverAt({ 'a.route.yaml': harborRoute, 'a.practice.yaml': practice });
    const { services, params } = editor;
    const ranking = vi.spyOn(services.estimates, 'ranking');
    const project = services.workspace.projectOf(editor.uri)!;
    const own = { runner: undefined, practice: project.practice, runs: [], week: undefined };
    const before = runToCompletion(services.techniqueEstimators.of(project, own, 'crate-vault'));
    expect(runToCompletion(hoverProvider(services)(params))?.contents).toMatchObject({ value: text });
    expect(runToCompletion(services.techniqueEstimators.of(project, own, 'crate-vault'))).toBe(before);
    expect(ranking).not.toHaveBeenCalled();
    const { uri } = project.practice[0]!;
    services.workspace.edit(uri, practice.replace('‸', '').replace('[80, 110]', '[8, 110]'));
    const edited = services.workspace.projectOf(editor.uri)!;
    const after = runToCompletion(
      services.techniqueEstimators.of(edited, { ...own, practice: edited.practice }, 'crate-vault'),
    );
    expect(after.assessment!.practiceNow.mean).toBeLessThan(before.assessment!.practiceNow.mean);
  });

  it('says so where nothing is logged', async () => {
    const route = harborRoute.replace('  lamp-clip:\n', '  lamp-‸clip:\n');
    const { text, word } = await hoverAt({ 'a.route.yaml': route });
    expect(word).toBe('lamp-clip');
    expect(text).toMatch(
      /^\*\*Lamp clip\*\* · difficulty 6 of 10 · waiting · as of \S+\n\nIt needs lamp-hop, which does not land /,
    );
    expect(text).toContain('No attempts logged');
  });

  it('has the names of others in the sentence as they are, whatever Markdown would make of them', async () => {
    const route = harborRoute
      .replace('lamp-hop: { difficulty', 'lamp-hop: { name: "*Hop* | <b>", difficulty')
      .replace('  lamp-clip:\n', '  ‸lamp-clip:\n');
    const { text } = await hoverAt({ 'a.route.yaml': route });
    expect(text).toMatch(/ · waiting · as of \S+\n\nIt needs \\\*Hop\\\* \\\| \\<b\\>, which does not land /);
  });

  it('knows a technique wherever its id is written', async () => {
    const files: [string, string][] = [
      ['a.route.yaml', harborRoute.replace('      - crate-vault', '      - ‸crate-vault')],
      ['a.route.yaml', harborRoute.replace('backup: lamp-hop', 'backup: lamp-ho‸p')],
      ['a.route.yaml', harborRoute.replace('needs: [lamp-hop]', 'needs: [lamp-hop‸]')],
      [
        'a.runs.yaml',
        'route: a.route.yaml\nruns:\n  - start: 2026-10-05\n    tried: { lamp-‸clip@second: [0, 1] }\n',
      ],
      ['a.week.yaml', 'route: a.route.yaml\nstates:\n  lamp‸-hop: learning\n'],
      ['a.week.yaml', 'route: a.route.yaml\npin: [lamp‸-hop]\n'],
      // By the id that it had before.
      ['a.practice.yaml', practice.replace('crate-‸vault', 'box‸-jump')],
    ];
    for (const [name, text] of files) {
      const found = await hoverAt({ 'a.route.yaml': harborRoute, [name]: text });
      expect(found.text, text).toContain('Lands in a run now');
    }
  });

  it('shows names as they are, whatever Markdown would make of them', async () => {
    const route = harborRoute
      .replace('name: Lamp clip', 'name: "<b>*Lamp* | clip"')
      .replace('  lamp-clip:\n', '  ‸lamp-clip:\n');
    const { text } = await hoverAt({ 'a.route.yaml': route });
    expect(text).toContain('**\\<b\\>\\*Lamp\\* \\| clip**');
  });

  it('names the runners where several are logged and none is chosen', async () => {
    const log = (runner: string) => `runner: ${runner}\n${practice.replace('‸', '')}`;
    const { text } = await hoverAt({
      'a.route.yaml': harborRoute.replace('- crate-vault', '- ‸crate-vault'),
      'a.practice.yaml': log('wick'),
      'b.practice.yaml': log('ember'),
    });
    expect(text).toContain('ember and wick');
  });
});

describe('hover on a key', () => {
  it('explains it with its default and an example', async () => {
    const { text, word } = await hoverAt({ 'a.route.yaml': `re‸start: 14\n${harborRoute}` });
    expect(word).toBe('restart');
    expect(text).toContain('Seconds from a reset to the next start.');
    expect(text).toContain('Left out: `10`');
    expect(text).toContain('For example `14`');
  });

  it('explains the words that a value may be', async () => {
    const { text } = await hoverAt({
      'a.route.yaml': harborRoute,
      'a.runs.yaml':
        'route: a.route.yaml\nruns:\n  - start: 2026-10-05\n    ended: { at: harbor, w‸hy: reset }\n',
    });
    expect(text).toContain('One of `miss`, `death`, `reset`');
  });

  it('is silent where there is nothing to say', async () => {
    const { text } = await hoverAt({ 'a.route.yaml': `x-mi‸ne: 1\n${harborRoute}` });
    expect(text).toBe('');
  });
});

it('hover on a segment says its usual time', async () => {
  const { text } = await hoverAt({ 'a.route.yaml': harborRoute.replace('id: harbor', 'id: har‸bor') });
  expect(text).toContain('**Harbor gate** · usual time 1:30.0');
});

it('leads to the definition from anywhere but the definition itself', async () => {
  const used = await hoverAt({ 'a.route.yaml': harborRoute, 'a.practice.yaml': practice });
  expect(used.text).toContain('(file:///w/a.route.yaml#L14)');
  expect(harborRoute.split('\n')[13]).toContain('crate-vault:');
  const defined = await hoverAt({
    'a.route.yaml': harborRoute.replace('  crate-vault: {', '  crate‸-vault: {'),
  });
  expect(defined.text).toContain('difficulty 3 of 10');
  expect(defined.text).not.toContain('#L');
});

it('leads to where a technique was logged last, in practice and in runs', async () => {
  const runs =
    'route: a.route.yaml\nruns:\n  - start: 2026-10-08\n    tried: { lamp-hop: [1, 1], box-jump: [0, 1] }\n';
  const { text } = await hoverAt({
    'a.route.yaml': harborRoute.replace('  crate-vault: {', '  crate‸-vault: {'),
    'a.practice.yaml': practice.replace('‸', ''),
    'a.runs.yaml': runs,
  });
  expect(text).toContain(
    'Logged last in [a.practice.yaml, line 8](file:///w/a.practice.yaml#L8) and [a.runs.yaml, line 4](file:///w/a.runs.yaml#L4)',
  );
});

describe('the curve in a hover', () => {
  const bars = '▁▂▃▄▅▆▇█';

  it('draws the weeks before today and four ahead, and says in words what the curve report says', async () => {
    const session = (day: number) =>
      `  - { start: 2026-10-${day}T19:30, blocks: [{ technique: crate-vault, minutes: 25, landed: [${day}, 60] }] }\n`;
    const { editor, text } = await hoverAt(
      {
        'a.route.yaml': harborRoute.replace('  crate-vault: {', '  crate‸-vault: {'),
        'a.practice.yaml': `route: a.route.yaml\nsessions:\n${[10, 17, 24].map(session).join('')}`,
      },
      '2026-10-26',
    );
    const project = editor.services.workspace.projectOf(editor.uri)!;
    const own = { runner: undefined, practice: project.practice, runs: [], week: undefined };
    const { estimates } = editor.services;
    const question = runToCompletion(estimates.modelInput(project, own));
    const until = question.asOfDay + 28;
    const { points } = buildRateCurve(question, 'crate-vault', dailyBlocks(question), until)!;
    const today = points.find(({ ahead }) => ahead)!;
    const bar = (day: number) => {
      const point = points.findLast((one) => one.day <= day && (one.ahead || day <= today.day))!;
      return bars[Math.floor(point.practice.mean * 8)];
    };
    const drawn = [-14, -7, 0].map((by) => bar(today.day + by)).join('');
    const ahead = [7, 14, 21, 28].map((by) => bar(today.day + by)).join('');
    expect(text).toContain(`\`\`\`text\n2026-10-11 ${drawn}│${ahead} 2026-11-23\n\`\`\``);
    const first = points.findLast(({ day }) => day <= today.day - 14)!;
    const last = points.at(-1)!;
    expect(text).toContain(
      `In practice: ${formatPercent(first.practice.mean)} on 2026-10-11, ${formatPercent(today.practice.mean)} today; ${formatPercent(last.practice.mean)} (`,
    );
    expect(text).toContain('by 2026-11-23 with a block of 25 min a day.');
  });

  it('begins today where nothing is logged', async () => {
    const { text } = await hoverAt({
      'a.route.yaml': harborRoute.replace('  lamp-clip:\n', '  lamp-‸clip:\n'),
    });
    expect(text).toMatch(/```text\ntoday [▁▂▃▄▅▆▇█]│[▁▂▃▄▅▆▇█]{4} \d{4}-\d\d-\d\d\n```/);
    expect(text).toMatch(/In practice: \d+ % today; \d+ % \(/);
  });

  it('has plain lines first, which call a gamble what it is', async () => {
    const { text } = await hoverAt({
      'a.route.yaml': harborRoute.replace('  lamp-clip:\n', '  lamp-‸clip:\n'),
    });
    const [, plain, table] = text.split('\n\n');
    const [standing, ...lines] = plain!.split('  \n');
    expect(standing).toBe('It needs lamp-hop, which does not land often enough yet.');
    expect(lines[0]).toMatch(
      /^It lands \d+ % of the time in a run now \(.*\)\. Trying it pays from its break-even on: 42 %\.$/,
    );
    expect(lines[2]).toMatch(/^That is a gamble: .* in 10 that it pays by then\. In 8 of 10 cases it lands /);
    expect(lines).toHaveLength(5);
    expect(table).toContain('| Lands in practice now |');
  });
});

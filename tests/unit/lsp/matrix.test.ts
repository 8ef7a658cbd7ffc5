import { runToCompletion } from '../../../server/src/incremental/steps.ts';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { describe, expect, it } from 'vitest';
import { fileKinds } from '../../../server/src/files/fileKind.ts';
import { rankHandler } from '../../../server/src/lsp/requests/rank.ts';
import type { Services } from '../../../server/src/lsp/server/services.ts';
import { poolText, sampleText } from '../../helpers/poolFiles.ts';
import { askAt, askOfFile, fits, outcome, type Answers } from './everyFeature.ts';
import { neverStopped, harborRoute, openEditor, uriOf } from './editor.ts';
import { fileAt } from '../../../server/src/lsp/documents/fileServices.ts';

const sample = Object.fromEntries(
  fileKinds.map((kind) => [`lanternfall.${kind}.yaml`, sampleText(kind)] as const),
);

const runs = `route: a.route.yaml
runs:
  - start: 2026-10-05T19:30
    times: { harbor: 91.5 }
    tried: { lamp-clip@second: [0, 1], "🏮🏮": [1, 1], box-jump: [1, 1] }
    ended: { at: rope-yard, why: miss, by: lamp-hop }
`;
const week = 'route: a.route.yaml\npin: [lamp-hop]\nstates:\n  lamp-clip: learning\n';

const pool = poolText({
  route: 'a.route.yaml',
  techniques: { 'lamp-hop': { runners: 3, difficulty: 2 }, none: { runners: 4, difficulty: 3 } },
});

/** Files as they stand while somebody types, merges or pastes; each replaces one of three good ones. */
const broken: readonly (readonly [string, string, string])[] = [
  ['nothing', 'a.route.yaml', ''],
  ['one letter', 'a.route.yaml', 'g'],
  ['a key without its value', 'a.route.yaml', harborRoute.replace('saves: 9..16', 'saves:')],
  ['a key without its colon', 'a.route.yaml', harborRoute.replace('  lamp-clip:\n', '  lamp-clip\n')],
  ['an open quote', 'a.route.yaml', harborRoute.replace('name: Harbor gate', 'name: "Harbor gate')],
  ['an open bracket', 'a.route.yaml', harborRoute.replace('backup: lamp-hop }', 'backup: lamp-hop')],
  ['an open list', 'a.route.yaml', harborRoute.replace('needs: [lamp-hop]', 'needs: [lamp-hop, ')],
  ['a pasted tab', 'a.route.yaml', harborRoute.replace('    time: 2:08', '\ttime: 2:08')],
  ['a wrong indentation', 'a.route.yaml', harborRoute.replace('    time: 2:08', '   time: 2:08')],
  [
    'markers of a merge',
    'a.route.yaml',
    harborRoute.replace(
      'techniques:\n  crate',
      '<<<<<<< ours\ntechniques:\n=======\n>>>>>>> theirs\n  crate',
    ),
  ],
  ['a key twice', 'a.route.yaml', `${harborRoute}  lamp-hop: { difficulty: 3, saves: 1 }\n`],
  ['a second document', 'a.route.yaml', `${harborRoute}---\ngame: Other\n`],
  ['a list for a file', 'a.route.yaml', '- a\n- b\n'],
  [
    'anchors and aliases',
    'a.route.yaml',
    harborRoute.replace('difficulty: 3', 'difficulty: &d 3').replace('difficulty: 2', 'difficulty: *d'),
  ],
  ['carriage returns', 'a.route.yaml', harborRoute.replaceAll('\n', '\r\n')],
  ['lone carriage returns', 'a.route.yaml', harborRoute.replaceAll('\n', '\r')],
  [
    'wrong types throughout',
    'a.route.yaml',
    'game: [1]\ncategory: {}\nsegments: 3\ntechniques: [x, 2]\nextends: []\n',
  ],
  [
    'names of what every object has',
    'a.route.yaml',
    harborRoute.replaceAll('lamp-hop', 'constructor').replaceAll('harbor', '__proto__'),
  ],
  ['a log half typed', 'a.runs.yaml', `${runs}  - start: 2026-10-06\n    tried: { lamp-`],
  ['a log without its route', 'a.runs.yaml', runs.replace('a.route.yaml', 'none.route.yaml')],
  [
    'a week with a byte-order mark and emoji',
    'a.week.yaml',
    `\uFEFF# 🏮\n${week.replace('lamp-hop', '"🏮"')}`,
  ],
  [
    'a week of one line',
    'a.week.yaml',
    '{ route: a.route.yaml, pin: [lamp-hop, ], states: { lamp-clip: learning',
  ],
  ['a pool cut short', 'a.pool.yaml', pool.slice(0, 700)],
  [
    'a pool of other curves, without its route',
    'a.pool.yaml',
    pool.replace(/route: .*\nmodel: 1/, 'model: 9'),
  ],
];

const textOf = (services: Services) => (uri: string) => fileAt(services.workspace, uri)?.reading.text;

/** Every range lies in its file, and every set of edits can be applied. */
function expectClean(services: Services, { ranges, edits }: Answers, where: string): void {
  const wrong: unknown[] = [];
  for (const { uri, range } of ranges) {
    const text = textOf(services)(uri);
    if (text === undefined || !fits(TextDocument.create(uri, 'x', 1, text), range))
      wrong.push({ uri, range });
  }
  expect(wrong, where).toEqual([]);
  for (const { from, edit } of edits)
    expect(() => outcome(edit, textOf(services)), `${from} at ${where}`).not.toThrow();
}

async function everywhere(files: Record<string, string>, name: string, step: number): Promise<number> {
  const editor = await openEditor({ [name]: files[name]!, ...files }, { open: [name] });
  const { services } = editor;
  Object.assign(editor.client, {
    snippets: true,
    labelDetails: true,
    appliesEdits: true,
    annotations: true,
    createsFiles: true,
    refreshHints: true,
    refreshLenses: true,
    showsInPanel: true,
  });
  const uri = uriOf(name);
  const project = services.workspace.projectOf(uri);
  if (project) await services.inlineEstimates.update(project, neverStopped);
  expectClean(services, askOfFile(services, uri), name);
  const { text } = fileAt(services.workspace, uri)!.reading;
  const document = TextDocument.create(uri, 'x', 1, text);
  let asked = 0;
  for (let offset = 0; offset <= text.length; offset += step, asked++)
    expectClean(services, await askAt(services, uri, document.positionAt(offset)), `${name}:${offset}`);
  services.checks.dispose();
  return asked;
}

describe('every feature, wherever the cursor is', () => {
  it('has twenty broken files and more', () => {
    expect(broken.length).toBeGreaterThanOrEqual(20);
  });

  it.each(fileKinds)('answers in the %s sample', async (kind) => {
    // No divisor of a line's length, so that every sort of place is met.
    const step = { route: 197, practice: 157, runs: 311, week: 13, pool: 79 }[kind];
    expect(await everywhere(sample, `lanternfall.${kind}.yaml`, step)).toBeGreaterThan(40);
  });

  it.each(broken)('answers in a file with %s', async (_, name, text) => {
    const files = { 'a.route.yaml': harborRoute, 'a.runs.yaml': runs, 'a.week.yaml': week, [name]: text };
    expect(await everywhere(files, name, 11)).toBeGreaterThan(0);
  });
});

describe('edits of the sample', () => {
  it('by rename and formatting leave the findings as few and the ranking as it was', async () => {
    const uri = uriOf('lanternfall.route.yaml');
    const { services } = await openEditor(sample, { open: Object.keys(sample), today: '2026-11-09' });
    const rows = () =>
      JSON.stringify(runToCompletion(rankHandler(services)({ uri })).report!.rows).replaceAll(
        'brand-new',
        'lamp-hop',
      );
    const findings = () => Object.keys(sample).flatMap((name) => services.findings.of(uriOf(name))).length;
    const before = { rows: rows(), findings: findings() };
    const text = sample['lanternfall.route.yaml']!;
    const document = TextDocument.create(uri, 'x', 1, text);
    const at = await askAt(services, uri, document.positionAt(text.indexOf('      - lamp-hop') + 10));
    const { edit } = at.edits.find(({ from }) => from === 'rename')!;
    const changed = outcome(edit, textOf(services));
    expect(changed.size).toBeGreaterThan(1);
    const untidy = new Map(
      [...changed].map(([other, after]) => [other, after.replace(/\n\n(?=\S)/g, '\n\n\n')]),
    );
    for (const [other, after] of untidy) services.sync.change(other, [{ text: after }], 2);
    await services.sync.ready();
    services.checks.checkPendingEdits();
    for (const [other, after] of changed) {
      const [formatted] = askOfFile(services, other).edits;
      const tidy = outcome(formatted!.edit, textOf(services)).get(other)!;
      expect(tidy).toBe(after);
      services.sync.change(other, [{ text: tidy }], 3);
    }
    await services.sync.ready();
    services.checks.checkPendingEdits();
    expect({ rows: rows(), findings: findings() }).toEqual(before);
    services.checks.dispose();
  });
});

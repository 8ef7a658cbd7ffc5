import type { FileKind } from '../../../../server/src/files/fileKind.ts';
import { samplePool } from '../../../helpers/poolFiles.ts';
import { readSource, type Reading } from '../../../../server/src/files/reading/reading.ts';

/** A small route with everything in it that makes reading hard: both kinds of list, quotes, blocks, comments. */
export const routeText = `# Lanternfall, any%
game: Lanternfall
category: any%
target: "41:30"
restart: 14 # seconds

notes: |
  Written for the *original* release.
    - indented
  # not a comment
links: []
segments:
  # the quay
  - id: harbor
    name: Harbor gate
    time: 1:32.4
    spread: 1.1
    luck: [{ chance: 0.4, adds: 9 }]
    techniques:
      - crate-vault
      - { use: lamp-clip, spot: gate, saves: 9..16, loses: 9, backup: lamp-hop }
  - id: rope-yard
    name: 'Rope ''n'' yard'
    time: "2:08"
    notes: >-
      Two lines
      folded.

  - id: fish-market
    time: 163.5
    techniques: [rope-swing, { use: lamp-hop, retry: 3,
      max_tries: 5 }]
techniques:
  crate-vault:
    name: Crate vault
    difficulty: 4
    saves: 3.2
    loses: 1.4
    needs: [wall-kick]
    practice: { attempt: 4, reload: 1, from: "quay, left of the crates" }
  wall-kick: { difficulty: 2, saves: 0 }
  lamp-clip:
    difficulty: 7
    saves: 9..16
    miss:
      - chance: 0.7
        loses: 2
      - { chance: 0.3, ends_run: true }
  lamp-hop:
    difficulty: 3
    saves: 2
    x-mine: kept
  rope-swing:
    difficulty: 5
    saves: 4
    needs:
    - wall-kick
    - lamp-hop
`;

/** A small practice log whose sessions stand in the first column. */
export const practiceText = `route: lanternfall.route.yaml
runner: wick
sessions:
- start: 2026-10-05T19:30
  blocks:
    - { technique: crate-vault, minutes: 25, landed: [61, 104] }
    - technique: lamp-clip
      minutes: 20
      tape: lmmlll
      on: emulator
- start: 2026-10-06T19:30
  blocks:
  - { segment: harbor, minutes: 20, tried: { crate-vault: [3, 5] } }
  notes: "late, and
    cold"
- start: "2026-10-07 23:10"
  blocks: []
`;

export const runsText = `route: lanternfall.route.yaml
runs:
  - start: 2026-10-10T15:00
    times: { harbor: 1:31.8, rope-yard: "2:07" }
    tried: { crate-vault: [1, 1], lamp-clip@second: [0, 1] }
    ended: { at: fish-market, why: miss, by: lamp-hop }
  - date: 2026-10-11
    minutes: 120
    runs: 38
    finished: 2
    ended:
      harbor: { reset: 20, death: 5 }
`;

export const weekText = `route: lanternfall.route.yaml
target: "41:30"
days: { mon: 100, tue: 100,
  wed: 75 }
off: ["2026-11-20"]
pin:
- crate-vault
states:
  lamp-clip: learning
times:
  harbor: { time: "1:30.0", spread: 0.9 }
day_starts: "04:00"
`;

export const texts: Readonly<Record<FileKind, string>> = {
  route: routeText,
  practice: practiceText,
  runs: runsText,
  week: weekText,
  pool: samplePool,
};

/** A reading's problems, each with its code and the text it stands at. */
export function found({ problems, text }: Pick<Reading, 'problems' | 'text'>): string[] {
  return problems.map(({ code, start, end }) => `${code}: ${text.slice(start, end)}`);
}

/** What is wrong with a route of this text. */
export function foundIn(text: string, kind: FileKind = 'route'): string[] {
  return found(readSource(kind, text));
}

import { unmarked } from './marked.ts';

/**
 * A route, its logs and its week file with deliberate mistakes, each marked with the code of its finding in the form
 * that support/marked.ts reads. They are in a separate folder next to the sample.
 */
export const PLANTED_FOLDER = 'planted';

export const PLANTED = {
  'planted.route.yaml': `game: Lanternfall
category: planted mistakes
segments:
  - id: pier
    name: Pier
    time: ⟦unreadable-time|1:75⟧
    techniques:
      # The notes below hold a character of two UTF-16 units before what follows on the line.
      - { use: mast-slide, notes: "𝔸", ⟦unknown-key|retries⟧: 2 }
      - plank-vault
  - id: cove
    time: 58
    techniques: [⟦saves-too-much|cave-dive⟧, keel-roll, ⟦unknown-technique|plank-vualt⟧]
techniques:
  plank-vault: { difficulty: ⟦difficulty-out-of-scale|12⟧, saves: 3 }
  mast-slide: { difficulty: 4, saves: 2 }
  keel-roll: { difficulty: 5, saves: 2 }
  cave-dive: { difficulty: 6, saves: 75 }
`,
  // Findings about a whole route are made only where the whole route can be read.
  'circle.route.yaml': `game: Lanternfall
category: a planted circle
segments:
  - { id: pier, time: 75, techniques: [keel-roll] }
techniques:
  mast-slide: { difficulty: 4, saves: 2, needs: [⟦needs-cycle|keel-roll⟧] }
  keel-roll: { difficulty: 5, saves: 2, needs: [mast-slide] }
`,
  'planted.practice.yaml': `route: planted.route.yaml
sessions:
  - start: 2026-11-02T19:30
    blocks:
      - { technique: keel-roll, minutes: 25, landed: ⟦more-landed-than-tried|[61, 45]⟧ }
      - { technique: ⟦unknown-technique|keel-rol⟧, minutes: 25, landed: [4, 9] }
  - start: ⟦dates-out-of-order|2026-11-01T19:30⟧
    blocks:
      - { technique: mast-slide, minutes: 25, landed: [3, 9] }
  - start: 2026-11-03T19:30
    blocks:
      - { technique: mast-slide, minutes: 25, landed: [3, 9], ⟦unknown-key|plase⟧: attic }
`,
  'planted.runs.yaml': `route: planted.route.yaml
runs:
  - start: 2026-11-04T21:00
    times: { ⟦unknown-segment|coev⟧: 59.2 }
    ended: { at: pier, why: ⟦wrong-value|tired⟧ }
  - start: ⟦date-in-future|2027-01-04T21:00⟧
    total: 4:01
`,
  'planted.week.yaml': `route: planted.route.yaml
days: { mon: 100, ⟦unknown-key|tues⟧: 50 }
pin: [keel-roll]
leave_out: [⟦pinned-and-left-out|keel-roll⟧]
`,
} as const;

export type PlantedFile = keyof typeof PLANTED;

export const PLANTED_NAMES = Object.keys(PLANTED) as PlantedFile[];

/** The texts of the files by their paths in the workspace, as they are when the editor starts. */
export function plantedFiles(): Record<string, string> {
  return Object.fromEntries(
    PLANTED_NAMES.map((name) => [`${PLANTED_FOLDER}/${name}`, unmarked(PLANTED[name]).text]),
  );
}

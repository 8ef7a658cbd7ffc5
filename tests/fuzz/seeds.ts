import { fileKinds, type FileKind } from '../../server/src/files/fileKind.ts';
import { poolText, sampleText } from '../helpers/poolFiles.ts';
import { harborRoute } from '../unit/lsp/editor.ts';

/** A text and the kind of file that it is read as. */
export interface Input {
  readonly kind: FileKind;
  readonly text: string;
}

/** Small files that belong together, by kind: features are asked of these. */
export const small: Readonly<Record<FileKind, string>> = {
  route: harborRoute,
  practice: `route: a.route.yaml
sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: lamp-hop, minutes: 25, landed: [20, 51] }
      - { technique: lamp-clip, minutes: 20, seen: [6, 10] } # a counted part
  - date: 2026-10-07
    blocks:
      - { technique: crate-vault, minutes: 15, tape: lmllmlllmm }
`,
  runs: `route: a.route.yaml
runs:
  - start: 2026-10-10T20:00
    times: { harbor: 91.5 }
    tried: { lamp-clip@second: [0, 1], box-jump: [1, 1] }
    ended: { at: rope-yard, why: miss, by: lamp-hop }
  - { date: 2026-10-11, runs: 12, finished: 2, tried: { crate-vault: [9, 12] } }
`,
  week: `route: a.route.yaml
days: { mon: 100, wed: 60 }
pin: [lamp-hop]
states:
  lamp-clip: learning
model: { overnight_gain: 0 }
`,
  pool: poolText({
    route: 'a.route.yaml',
    techniques: {
      'lamp-hop': { runners: 3, difficulty: 3 },
      'old-clip': { runners: 4, difficulty: 5, brief: true },
    },
  }),
};

/** What mutation begins with: the small files, and the complete sample. */
export function seeds(samples: string): Input[] {
  return fileKinds.flatMap((kind) => [
    { kind, text: small[kind] },
    { kind, text: sampleText(kind, samples).slice(0, 12_000) },
  ]);
}

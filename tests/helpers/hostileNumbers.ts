/**
 * Files of one route in which every number, time and date is a numbered place, and values that no run has. A place gets
 * one such value while all others are right.
 */

const many = '9'.repeat(400);

/** Numbers that nothing can be worked out with, and texts that become such numbers: never right in any place. */
export const impossible: readonly string[] = [
  '1e308',
  '-1e308',
  many,
  '.inf',
  '-.inf',
  '.nan',
  `"${many}:59"`,
];

/** Values at the edge of what is right, and others that are wrong in most places only. */
export const extreme: readonly string[] = [
  ...[
    '1e-308',
    '0',
    '-1',
    '999999',
    '1000000',
    '1e20',
    `0.${'0'.repeat(400)}1`,
    `"1..${many}"`,
    '"0..999999"',
  ],
  ...['2062-10-05', '2999-12-31', '9999-12-31', '0000-01-01', '2026-10-05T19:30+02:00', '2026-10-05T19:30Z'],
  ...[
    '[1e308, 1e308]',
    '[0, 1e308]',
    '[0, 1000000]',
    '[1000000, 1000000]',
    '[0, 0]',
    '"99:59:59"',
    '~',
    '{}',
  ],
];

/** A template: `<<key: value>>` is a place whose right value is that one. */
const templates = {
  route: `game: Lanternfall
category: any%
target: <<3:00>>
restart: <<10>>
segments:
  - id: harbor
    time: <<1:32.4>>
    spread: <<1.1>>
    survive: <<0.99>>
    luck: [{ chance: <<0.4>>, adds: <<9>> }]
    techniques:
      - use: vault
        saves: <<3>>
        loses: <<1>>
        retry: <<3>>
        max_tries: <<3>>
        costs: <<2>>
        take: oil
  - { id: yard, time: 2:10, techniques: [clip, { use: hop, with: oil }] }
techniques:
  vault:
    difficulty: <<4>>
    saves: <<3.2>>
    loses: <<1.4>>
    practice: { attempt: <<4>>, reload: <<1>> }
  clip:
    difficulty: 3
    saves: 3
    miss: [{ chance: <<0.5>>, loses: <<2>> }, { chance: 0.5, ends_run: true }]
  hop: { difficulty: 3, saves: 2, loses: 1, needs: [vault] }
`,
  practice: `route: a.route.yaml
sessions:
  - start: <<2026-10-05T19:30>>
    blocks:
      - { technique: vault, minutes: <<25>>, landed: <<[60, 150]>> }
      - { technique: vault, minutes: 20, seen: <<[6, 10]>>, attempts: <<120>> }
      - { technique: clip, minutes: 25, landed: [60, 150] }
`,
  runs: `route: a.route.yaml
runs:
  - start: <<2026-10-06T19:30>>
    total: <<"3:41.2">>
    tried: { vault: <<[1, 2]>> }
    times: { harbor: <<"1:31.8">> }
  - date: <<2026-10-07>>
    runs: <<38>>
    finished: <<2>>
    minutes: <<120>>
    ended: { harbor: { reset: <<20>>, death: <<5>>, miss: <<1>> } }
  - { start: 2026-10-06T20:00, total: "4:00", first: { vault: <<[1, 1]>> } }
`,
  week: `route: a.route.yaml
target: <<"3:30">>
days: { mon: <<100>>, tue: 60 }
runs: { mon: <<60>> }
block: <<25>>
confidence: <<0.8>>
off: [<<2026-10-31>>]
times: { harbor: { time: <<"1:30">>, spread: <<0.9>> } }
model:
  unit_practice: <<10>>
  day_saturation: <<207>>
  overnight_gain: <<0.2>>
  form_of_day: <<0.3>>
  half_life: <<195>>
  clock_weight: <<0.01>>
`,
} as const;

export type TemplateKind = keyof typeof templates;
const kinds = Object.keys(templates) as TemplateKind[];
const place = /<<(.*?)>>/g;

/** Number of places in all files together. */
export const placeCount = kinds.reduce((sum, kind) => sum + [...templates[kind].matchAll(place)].length, 0);

/** Files with one wrong value. */
export interface HostileFiles {
  readonly files: Readonly<Record<string, string>>;
  /** The file with the value. */
  readonly name: string;
  readonly kind: TemplateKind;
  /** Offset in that file at which the value begins, and its length. */
  readonly start: number;
  readonly end: number;
}

/** The files by name, with a value at one place; -1: all values are right. */
export function filesWith(index: number, value: string): HostileFiles {
  let at = 0;
  let found = { name: '', kind: 'route' as TemplateKind, start: 0, end: 0 };
  const files = kinds.map((kind) => {
    let moved = 0;
    const name = `a.${kind}.yaml`;
    const text = templates[kind].replace(place, (whole, right: string, offset: number) => {
      const written = at++ === index ? value : right;
      const start = offset + moved;
      if (at - 1 === index) found = { name, kind, start, end: start + written.length };
      moved += written.length - whole.length;
      return written;
    });
    return [name, text] as const;
  });
  return { files: Object.fromEntries(files), ...found };
}

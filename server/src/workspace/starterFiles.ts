/** A file to be written, by its name in the folder. */
export interface StarterFile {
  readonly name: string;
  readonly text: string;
}

/** A route that is written already, with ids of it for the examples in its logs. */
export interface WrittenRoute {
  readonly text: string;
  readonly techniques: readonly string[];
  readonly segments: readonly string[];
}

const example: Omit<WrittenRoute, 'text'> = {
  techniques: ['wall-jump', 'ledge-skip'],
  segments: ['opening', 'crossing'],
};

/**
 * A route with its logs and week file. Left out, the route is a small one to be overwritten: everything in it is an
 * example, and its comments explain each part. `check` has no findings for it.
 */
export function starterFiles(game: string, category: string, written?: WrittenRoute): StarterFile[] {
  const stem = fileStem(game);
  const route = `${stem}.route.yaml`;
  const { techniques, segments } = written ?? example;
  return [
    { name: route, text: written?.text ?? routeText(game, category) },
    { name: `${stem}.practice.yaml`, text: practiceText(route, techniques) },
    { name: `${stem}.runs.yaml`, text: runsText(route, techniques, segments) },
    { name: `${stem}.week.yaml`, text: weekText(route) },
  ];
}

/** A file name out of a game's name: letters and digits of any script, hyphens between them. */
function fileStem(game: string): string {
  const stem = game
    .toLowerCase()
    .replace(/[^\p{Letter}\p{Number}]+/gu, '-')
    .replace(/^-+|-+$/g, '');
  return stem === '' ? 'my-game' : stem;
}

/** A text as a quoted YAML value: a JSON string is one. */
function yamlString(text: string): string {
  return JSON.stringify(text);
}

function routeText(game: string, category: string): string {
  return `# The route: what runners share. Everything below is an example to write over.
game: ${yamlString(game)}
category: ${yamlString(category)}
restart: 10 # seconds from a reset to the next start

# The stretches of the run, in order, each with its usual time when nothing below is tried.
segments:
  - id: opening
    name: Opening
    time: 1:30.0
    spread: 1.5 # how much that time varies from run to run, seconds (standard deviation)
    techniques:
      - wall-jump
  - id: crossing
    name: Crossing
    time: 2:10.0
    spread: 2.0
    survive: 0.98 # chance to get through it alive
    techniques:
      - { use: wall-jump, id: second } # once more: the id tells the two apart in the logs
      - { use: ledge-skip, loses: 3 } # here a miss costs more than elsewhere

# What must be learned to land.
techniques:
  wall-jump:
    name: Wall jump
    difficulty: 3 # 1 to 10
    saves: 1.2 # seconds gained when it lands, against not trying
    loses: 0.8 # seconds lost when it is missed
    practice: { attempt: 4, reload: 2 } # seconds of one attempt, and of the way back to its start
  ledge-skip:
    name: Ledge skip
    difficulty: 6
    saves: 4..7 # not sure? an 80 % range will do
    loses: 2.5
    needs: [wall-jump]
    practice: { attempt: 6, reload: 2 }
`;
}

/** @param techniques ids for the examples; those of the small route where there are none */
function practiceText(route: string, techniques: readonly string[]): string {
  const [first = 'wall-jump', second = first] = techniques;
  return `# The practice log: yours alone. One session a sitting, oldest first, such as:
#   - start: 2026-10-05T19:30
#     blocks:
#       - { technique: ${first}, minutes: 25, landed: [112, 240] } # landed 112 of 240 tries
#       - { technique: ${second}, minutes: 25, tape: lmmlmll } # or a letter for each try
route: ${yamlString(route)}
sessions: []
`;
}

/** @param techniques and `segments`: ids for the examples */
function runsText(route: string, techniques: readonly string[], segments: readonly string[]): string {
  const times = ['1:29.1', '2:11.4'];
  const timed = segments.slice(0, 2).map((id, at) => `${id}: ${times[at]!}`);
  const tried = techniques.slice(0, 2).map((id, at) => `${id}: [${1 - at}, 1]`);
  const parts = [
    timed.length === 0 ? 'total: "41:30.2"' : `times: { ${timed.join(', ')} }`,
    ...(tried.length === 0 ? [] : [`tried: { ${tried.join(', ')} } # landed, tries`]),
  ];
  return `# The run log: yours alone. One entry a run, oldest first, such as:
#   - start: 2026-10-10T20:00
${parts.map((part) => `#     ${part}\n`).join('')}route: ${yamlString(route)}
runs: []
`;
}

function weekText(route: string): string {
  return `# The week: yours alone. The time you have, and what the logs cannot know.
route: ${yamlString(route)}
days: { mon: 50, wed: 50, fri: 50 } # minutes for practice
runs: { sat: 90 } # minutes for runs
block: 25 # minutes on one technique at a time
`;
}

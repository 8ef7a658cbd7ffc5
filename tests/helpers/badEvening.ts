/** A runner's files: two techniques of the run landed well for four weeks, and two more are being learned. */

const route = `game: Lanternfall
category: any%
restart: 12
segments:
  - { id: harbor, time: 1:32.4, techniques: [gate-roll, lamp-hop] }
  - { id: stairs, time: 2:10.0, techniques: [wall-kick] }
  - { id: roofs, time: 1:48.0, techniques: [rope-swing] }
techniques:
  gate-roll: { name: Gate roll, difficulty: 3, saves: 3.2, loses: 1.4, practice: { attempt: 4, reload: 1 } }
  lamp-hop: { name: Lamp hop, difficulty: 2, saves: 2.1, loses: 1.6, practice: { attempt: 4, reload: 1 } }
  wall-kick: { name: Wall kick, difficulty: 4, saves: 4.5, loses: 2.5, practice: { attempt: 5, reload: 1 } }
  rope-swing: { name: Rope swing, difficulty: 5, saves: 5, loses: 2, practice: { attempt: 5, reload: 1 } }
`;

/** One evening: how often gate-roll and lamp-hop landed in its runs. */
export const evening = (date: string, gateRoll: string, lampHop: string): string =>
  `  - { date: ${date}, minutes: 60, runs: 12, finished: 2, tried: { gate-roll: ${gateRoll}, lamp-hop: ${lampHop} } }\n`;

const before = ['09-10', '09-13', '09-17', '09-20', '09-24', '09-27', '10-01']
  .map((date) => evening(`2026-${date}`, '[18, 22]', '[10, 12]'))
  .join('');

const blocks = ['09-28', '09-30', '10-02', '10-05']
  .map(
    (date, i) =>
      `  - start: 2026-${date}T19:00\n    blocks:\n      - { technique: wall-kick, minutes: 25, landed: [${20 + 12 * i}, 200] }\n      - { technique: rope-swing, minutes: 25, landed: [${10 + 8 * i}, 200] }\n`,
  )
  .join('');

/** The runs file: four good weeks, and then these evenings. */
export const runsText = (...evenings: string[]): string =>
  `route: lanternfall.route.yaml\nruns:\n${before}${evenings.join('')}`;

/** The four files after the good weeks. */
export const goodWeeks = {
  'lanternfall.route.yaml': route,
  'lanternfall.practice.yaml': `route: lanternfall.route.yaml\nsessions:\n${blocks}`,
  'lanternfall.runs.yaml': runsText(),
  'lanternfall.week.yaml':
    'route: lanternfall.route.yaml\nblock: 20\ndays: { mon: 80, tue: 80, wed: 80, thu: 80, fri: 80, sat: 80, sun: 80 }\n',
};

/** A route of two segments with a log, as texts. */
export const route = `game: Lanternfall
category: any%
segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
  - { id: stairs, time: 2:10.0, techniques: [wall-kick] }
techniques:
  crate-vault: { name: Crate vault, difficulty: 4, saves: 3.2, loses: 1.4 }
  wall-kick: { name: Wall kick, difficulty: 2, saves: 1.5, loses: 0.5 }
`;

export const practice = `route: lanternfall.route.yaml
sessions:
  - start: 2026-10-05T19:30
    blocks:
      - { technique: crate-vault, minutes: 25, landed: [60, 150] }
  - start: 2026-10-06T19:30
    blocks:
      - { technique: wall-kick, minutes: 25, landed: [90, 150] }
`;

import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type StrangeFolder, strangeFolder } from './strangeFiles.ts';

/** A word that no object may have after such files were read. */
export const pollution = 'polluted';

const spoilt = `{ ${pollution}: 1, prototype: { ${pollution}: 1 }, constructor: { prototype: { ${pollution}: 1 } }, __proto__: { ${pollution}: 1 } }`;
const names = ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty'] as const;
const each = (line: (name: string) => string): string => names.map(line).join('');

/** Files whose keys, ids and values are the names that every object has, by name. */
export const hostileFiles: Readonly<Record<string, string>> = {
  'proto.route.yaml': `game: __proto__
category: constructor
${each((name) => `${name}: ${spoilt}\nx-${name}: ${spoilt}\n`)}segments:
${each((name) => `  - { id: ${name}, time: 40, ${name}: ${spoilt}, techniques: [${name}, { technique: ${name}, id: ${name}, ${name}: ${spoilt} }] }\n`)}techniques:
${each((name) => `  ${name}: { name: ${name}, difficulty: 3, saves: 2, loses: 1, needs: [${name}], was: ${name}, ${name}: ${spoilt}, x-${name}: ${spoilt} }\n`)}`,
  'proto.practice.yaml': `route: proto.route.yaml
${each((name) => `${name}: ${spoilt}\n`)}sessions:
  - start: 2026-10-05T19:30
    blocks:
${each((name) => `      - { technique: ${name}, minutes: 25, landed: [60, 150], tried: { ${name}: [1, 1] }, ${name}: ${spoilt} }\n`)}`,
  'proto.runs.yaml': `route: proto.route.yaml
${each((name) => `${name}: ${spoilt}\n`)}runs:
${each((name) => `  - { start: 2026-10-06T19:30, times: { ${name}: 41 }, tried: { ${name}: [1, 2] }, ${name}: ${spoilt} }\n`)}`,
  'proto.week.yaml': `route: proto.route.yaml
pin: [${names.join(', ')}]
states: { ${names.map((name) => `${name}: learning`).join(', ')} }
times: { ${names.map((name) => `${name}: { time: 4, ${pollution}: 1 }`).join(', ')} }
${each((name) => `${name}: ${spoilt}\n`)}`,
  'proto.pool.yaml': `route: proto.route.yaml
model: 1
day: 2026-10-05
runners: [${names.join(', ')}]
${each((name) => `${name}: ${spoilt}\n`)}techniques:
${each((name) => `  ${name}: { runners: 3, difficulty: 3, midway: { ${name}: ${spoilt}, quarter: ${spoilt} }, ${name}: ${spoilt} }\n`)}`,
};

/** In a git configuration: whatever git could be made to start. Each would leave the file `started` behind. */
const trap = (folder: string): string => `[core]
\trepositoryformatversion = 0
\tfsmonitor = touch ${folder}/started
\thooksPath = ${folder}/hooks
\tsshCommand = touch ${folder}/started
\tpager = touch ${folder}/started
[alias]
\tshow = !touch ${folder}/started
`;

/** What a cloned folder could hold at worst: no files, links out of it, spoilt names, and a git configuration of traps. */
export function hostileFolder(): StrangeFolder {
  const strange = strangeFolder();
  for (const [name, text] of Object.entries(hostileFiles)) writeFileSync(join(strange.folder, name), text);
  for (const below of ['refs', 'objects'])
    mkdirSync(join(strange.folder, '.git', below), { recursive: true });
  writeFileSync(join(strange.folder, '.git/HEAD'), 'ref: refs/heads/main\n');
  writeFileSync(join(strange.folder, '.git/config'), trap(strange.folder));
  return strange;
}

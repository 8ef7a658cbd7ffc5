import {
  closeSync,
  ftruncateSync,
  openSync,
  readFileSync,
  renameSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { argv, stdin } from 'node:process';
import { chance } from '../arena/random.ts';

/*
 * A program that knows nothing of journals and edits a log again and again until its input ends: each time it reads the
 * file, adds a comment, looks whether the file is still the one that it read, and writes it. Prints the number of each
 * edit once it is written.
 */
const [, , path = '', how = 'rename', seed = '1'] = argv;
const { between } = chance(Number(seed));
const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

const write: Readonly<Record<string, (text: string) => void | Promise<void>>> = {
  rename(text) {
    writeFileSync(`${path}~`, text);
    renameSync(`${path}~`, path);
  },
  'in place': (text) => writeFileSync(path, text),
  async 'in place, slowly'(text) {
    const file = openSync(path, 'r+');
    ftruncateSync(file);
    await pause(between(0, 30));
    writeSync(file, text);
    closeSync(file);
  },
};

let goesOn = true;
stdin.on('end', () => (goesOn = false)).resume();
for (let edit = 1; goesOn;) {
  await pause(between(5, 40));
  try {
    const text = readFileSync(path, 'utf8');
    await pause(between(0, 5));
    if (readFileSync(path, 'utf8') !== text) continue;
    await write[how]!(text.replace('\n', `\n# edit ${edit}.\n`));
  } catch (error) {
    // No file has the name for a moment while it is replaced.
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    continue;
  }
  writeSync(1, `${edit}\n`);
  edit += 1;
}

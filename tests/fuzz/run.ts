/**
 * The fuzzer: `npm run fuzz -- --seed S --inputs N`. Tries fixed inputs that ask for too much, hostile values for every
 * key, then N inputs by chance against the readers and the features, then messages in any order against the server, and
 * edits by ranges. The same seed tries the same inputs. What fails is written to tests/output/fuzz; the exit code is 1
 * where anything did.
 */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { programOf } from '../helpers/commandLine.ts';
import { bombLimit } from './bombs.ts';
import { fuzz, type Failure } from './fuzz.ts';
import { fuzzServer } from './messages.ts';
import { fuzzEdits } from './rangeEdits.ts';

const root = join(import.meta.dirname, '../..');
const output = join(root, 'tests/output/fuzz');
const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    inputs: { type: 'string', default: '20000' },
  },
});
const seed = Number(values.seed);
const inputs = Number(values.inputs);
if (!Number.isSafeInteger(seed) || !Number.isSafeInteger(inputs) || inputs < 1) {
  console.error('--seed and --inputs are whole numbers, such as --seed 7 --inputs 50000.');
  process.exit(2);
}

const folder = await mkdtemp(join(tmpdir(), 'fuzz-'));
try {
  await mkdir(output, { recursive: true });
  const program = await programOf('tests/fuzz/worker.ts', folder);
  const shared = { program, samples: join(root, 'samples'), seed, featuresEvery: 20 };
  const failures: Failure[] = [];
  const report = (title: string, tried: number, found: readonly Failure[], more = ''): void => {
    const count = (kind: Failure['kind']): number => found.filter((each) => each.kind === kind).length;
    console.log(`${title}: ${tried} tried, ${count('crash')} crashes, ${count('hang')} hangs${more}`);
    failures.push(...found);
  };

  console.log(`Seed ${seed}`);
  const fixed = await fuzz({ ...shared, fixed: 'bombs', limit: bombLimit, inputs: Number.MAX_SAFE_INTEGER });
  const [slowest = ['none', 0]] = [...fixed.took].sort(([, a], [, b]) => b - a);
  report(
    'Fixed inputs',
    fixed.inputs,
    fixed.failures,
    `; slowest: ${slowest[0]}, ${Math.round(slowest[1])} ms`,
  );
  const hostile = await fuzz({ ...shared, fixed: 'hostile', inputs: Number.MAX_SAFE_INTEGER });
  report('Hostile values', hostile.inputs, hostile.failures);
  const readers = await fuzz({ ...shared, inputs });
  report(
    'Files by chance',
    readers.inputs,
    readers.failures,
    `, ${readers.kept} kept, ${readers.seen} things seen`,
  );
  const server = await fuzzServer({ seed, messages: Math.ceil(inputs / 5) });
  report('Messages by chance', server.messages, server.failures, `, ${server.answers} answers`);
  const edited = await fuzzEdits({ seed, edits: Math.ceil(inputs / 20) });
  report(
    'Edits by ranges',
    edited.edits,
    edited.failures,
    `, ${edited.cancelled} questions cancelled, ${edited.comparisons} comparisons with a fresh server`,
  );
  const { maxRSS } = process.resourceUsage();
  console.log(`Memory at most, of the readers and features: ${Math.round(maxRSS / 1024)} MB`);

  for (const [index, { kind, what, error, input }] of failures.entries()) {
    const file = join(output, `${seed}-${index}.${input.kind}.yaml`);
    await writeFile(file, input.text);
    console.log(`\n${kind} in ${what}, input in ${file}:\n${error.split('\n').slice(0, 8).join('\n')}`);
  }
  process.exitCode = failures.length > 0 ? 1 : 0;
} finally {
  await rm(folder, { recursive: true, force: true });
}

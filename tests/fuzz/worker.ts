/** A thread of the fuzzer: tries one input after another and says before each which it is. */
import { parentPort, workerData } from 'node:worker_threads';
import { chance, seedOf } from '../arena/random.ts';
import { bombs } from './bombs.ts';
import { hostileInputs } from './hostile.ts';
import { mutated } from './mutate.ts';
import { plants } from './plants.ts';
import { probeFeatures, probeReader } from './probes.ts';
import type { Input } from './seeds.ts';
import type { Said, Task } from './task.ts';

const task = workerData as Task;
const reader = plants[task.plant as keyof typeof plants];
const corpus: Input[] = [...task.corpus];
const seen = new Set(task.seen);
const mostKept = 3000;

const say = (said: Said): void => parentPort?.postMessage(said);

async function attempt(
  index: number,
  what: string,
  input: Input,
  probe: () => string[] | Promise<string[]>,
): Promise<void> {
  say({ type: 'begins', index, what, input });
  try {
    const found = (await probe()).filter((one) => !seen.has(one));
    if (found.length === 0) return;
    for (const one of found) seen.add(one);
    if (corpus.length < mostKept) corpus.push(input);
    say({ type: 'kept', input, seen: found });
  } catch (error) {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    say({ type: 'failed', index, what, error: text, input });
  }
}

async function throwBombs(): Promise<void> {
  for (const [index, bomb] of bombs.entries()) {
    if (index < task.from) continue;
    const from = performance.now();
    await attempt(index, `reading ${bomb.name}`, bomb, () => probeReader(bomb, `${bomb.text}x: 1\n`, reader));
    if (task.featuresEvery > 0)
      await attempt(index, `features of ${bomb.name}`, bomb, () =>
        probeFeatures(bomb, chance(index), { places: 1, ends: false }),
      );
    say({ type: 'took', what: bomb.name, ms: performance.now() - from });
  }
}

async function byChance(): Promise<void> {
  for (let index = task.from; index < task.to; index++) {
    const draw = chance(seedOf(task.seed, index));
    const base = corpus[draw.whole(0, corpus.length - 1)]!;
    const other = corpus[draw.whole(0, corpus.length - 1)]!.text;
    const input = { kind: base.kind, text: mutated(base.text, draw, other) };
    const features = task.featuresEvery > 0 && index % task.featuresEvery === 0 && input.text.length < 4000;
    if (features) await attempt(index, 'features', input, () => probeFeatures(input, draw));
    else {
      const next = draw.next() < 0.5 ? input.text : mutated(input.text, draw, other);
      const shown = { kind: input.kind, text: next };
      await attempt(index, 'reading', shown, () => probeReader({ ...input, text: base.text }, next, reader));
    }
  }
}

async function hostile(): Promise<void> {
  let index = 0;
  for (const input of hostileInputs()) {
    const at = index++;
    if (at < task.from) continue;
    if (at >= task.to) return;
    if (at % task.oneIn !== 0) continue;
    const { name, text } = input;
    const features = task.featuresEvery > 0 && at % task.featuresEvery === 0;
    if (features) await attempt(at, `features of ${name}`, input, () => probeFeatures(input, chance(at)));
    else await attempt(at, `reading ${name}`, input, () => probeReader(input, `${text}x-a: 1\n`, reader));
  }
}

const work = { bombs: throwBombs, hostile, chance: byChance };
await work[task.fixed ?? 'chance']();
say({ type: 'done' });

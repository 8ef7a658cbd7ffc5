import { spawn } from 'node:child_process';

/** A command of the whole run, and how what it says becomes counts. */
export interface Stage {
  readonly title: string;
  readonly command: string;
  readonly args: readonly string[];
  /**
   * How many of its tests passed and failed; left out, the stage counts as one test.
   *
   * @param output all that it printed
   */
  readonly counts?: (output: string) => Promise<Counts> | Counts;
}

export interface Counts {
  readonly passed: number;
  readonly failed: number;
}

/** What a stage came to. */
export interface StageOutcome extends Counts {
  readonly title: string;
  readonly seconds: number;
  readonly output: string;
}

/**
 * Runs a command with its output passed on line by line, each behind the name of its stage, since others may run
 * beside it. A command that ends with another code than 0 has at least one failure, whatever it counted.
 */
export async function runStage({ title, command, args, counts }: Stage, root: string): Promise<StageOutcome> {
  const begun = Date.now();
  console.log(`[${title}] begins`);
  const { code, output } = await runLines(command, args, root, (line) => console.log(`[${title}] ${line}`));
  const seconds = (Date.now() - begun) / 1000;
  console.log(`[${title}] ended after ${seconds.toFixed(0)} s with code ${code}`);
  const ok = { passed: 1, failed: 0 };
  const { passed, failed } = (await counts?.(output)) ?? (code === 0 ? ok : { passed: 0, failed: 1 });
  return { title, seconds, output, passed, failed: Math.max(failed, code === 0 ? 0 : 1) };
}

function runLines(
  command: string,
  args: readonly string[],
  cwd: string,
  line: (text: string) => void,
): Promise<{ readonly code: number; readonly output: string }> {
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd, stdio: ['ignore', 'pipe', 'pipe'] });
    let output = '';
    for (const stream of [child.stdout, child.stderr]) {
      let rest = '';
      stream.setEncoding('utf8');
      stream.on('data', (chunk: string) => {
        output += chunk;
        const lines = (rest + chunk).split('\n');
        rest = lines.pop() ?? '';
        lines.forEach(line);
      });
      stream.on('end', () => rest && line(rest));
    }
    child.on('error', (error) => resolve({ code: 127, output: `${output}\n${error.message}` }));
    child.on('close', (code) => resolve({ code: code ?? 1, output }));
  });
}

/**
 * Runs stages, so many at a time; each begins, in the order given, as soon as there is room for it.
 *
 * @returns what they came to, in the order given
 */
export async function runStages(
  stages: readonly Stage[],
  root: string,
  atATime: number,
): Promise<StageOutcome[]> {
  const outcomes: StageOutcome[] = [];
  const waiting = [...stages.entries()];
  const lane = async (): Promise<void> => {
    for (let next = waiting.shift(); next; next = waiting.shift()) {
      const [index, stage] = next;
      outcomes[index] = await runStage(stage, root);
    }
  };
  await Promise.all(Array.from({ length: atATime }, lane));
  return outcomes;
}

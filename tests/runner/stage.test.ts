import { expect, test, vi } from 'vitest';
import { runStage, runStages } from './stage.ts';

const node = (title: string, program: string) => ({
  title,
  command: process.execPath,
  args: ['-e', program],
});
const silent = () => vi.spyOn(console, 'log').mockReturnValue();

test('a command counts as one test, passed or failed by its exit code', async () => {
  const log = silent();
  const outcomes = await runStages([node('good', ''), node('bad', 'process.exit(3)')], '/', 1);
  expect(outcomes.map(({ passed, failed }) => [passed, failed])).toEqual([
    [1, 0],
    [0, 1],
  ]);
  log.mockRestore();
});

test('counts are those of the output, with a failure where the code says so', async () => {
  const log = silent();
  const counts = (output: string) => ({ passed: Number(output), failed: 0 });
  const good = await runStage({ ...node('good', 'console.log(7)'), counts }, '/');
  const bad = await runStage({ ...node('bad', 'console.log(7); process.exitCode = 1'), counts }, '/');
  expect([good.passed, good.failed, bad.passed, bad.failed]).toEqual([7, 0, 7, 1]);
  log.mockRestore();
});

test('each line of either stream is passed on behind the name of its stage, the last one too', async () => {
  const log = silent();
  await runStage(node('talk', 'process.stdout.write("one\\ntwo"); process.stderr.write("three\\n")'), '/');
  const lines = log.mock.calls.map(([line]) => String(line));
  expect(lines).toEqual(expect.arrayContaining(['[talk] one', '[talk] two', '[talk] three']));
  log.mockRestore();
});

test('a program that is not there is a failure, not an exception', async () => {
  const log = silent();
  expect(await runStage({ title: 'none', command: '/nowhere/program', args: [] }, '/')).toMatchObject({
    passed: 0,
    failed: 1,
  });
  log.mockRestore();
});

test('no more stages run at a time than are asked for, and outcomes stand in the order given', async () => {
  const log = silent();
  const wait = (ms: number) => `setTimeout(() => {}, ${ms})`;
  const outcomes = await runStages([node('a', wait(300)), node('b', wait(10)), node('c', '')], '/', 2);
  expect(outcomes.map(({ title }) => title)).toEqual(['a', 'b', 'c']);
  let running = 0;
  const most = log.mock.calls.map(([line]) => {
    if (String(line).endsWith('] begins')) running += 1;
    if (String(line).includes('] ended')) running -= 1;
    return running;
  });
  expect(Math.max(...most)).toBe(2);
  log.mockRestore();
});

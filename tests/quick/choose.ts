/** Test files to be run now, and those for which there is no time. */
export interface Choice {
  readonly run: readonly string[];
  readonly leftOut: readonly string[];
}

/**
 * Chooses test files: those nearest to the change first, the quicker of two that are equally near, as long as there is
 * time. A file that changed itself is always run.
 *
 * @param steps how far each test file is from the change, by its path
 * @param secondsOf what a file takes
 * @param budget seconds for all of them
 */
export function chooseTests(
  steps: ReadonlyMap<string, number>,
  secondsOf: (path: string) => number,
  budget: number,
): Choice {
  const order = [...steps].sort(
    ([a, near], [b, far]) => near - far || secondsOf(a) - secondsOf(b) || (a < b ? -1 : 1),
  );
  const run: string[] = [];
  const leftOut: string[] = [];
  let spent = 0;
  for (const [path, count] of order) {
    const seconds = secondsOf(path);
    if (count > 0 && spent + seconds > budget) leftOut.push(path);
    else {
      run.push(path);
      spent += seconds;
    }
  }
  return { run, leftOut };
}

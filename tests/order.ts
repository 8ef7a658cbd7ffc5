import { relative } from 'node:path';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { secondsOf } from './durations.ts';

/** Begins with the files that take longest, so that no long one is left for the end, when all else is done. */
export class LongestFirst extends BaseSequencer {
  override sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const seconds = ({ moduleId }: TestSpecification): number =>
      secondsOf(relative(this.ctx.config.root, moduleId).replaceAll('\\', '/'));
    return Promise.resolve([...files].sort((a, b) => seconds(b) - seconds(a)));
  }
}

import { weekDefaults } from '../files/documents/weekDocument.ts';
import type { RunnerFiles } from '../workspace/runnerFiles.ts';

/** Minutes after midnight at which the runner's day begins: what is practised before belongs to the day before. */
export function dayStartsOf({ week }: RunnerFiles): number {
  return week?.document.dayStarts ?? weekDefaults.dayStarts;
}

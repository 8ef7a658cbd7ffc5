import type { Remedy, RemedyOffer } from '../../protocol/panel/remedies.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';

const texts: Readonly<Record<Remedy, string>> = {
  minutes: 'Write Minutes into the Week File…',
  target: 'Write a Target…',
  'log-block': 'Log a Block…',
  'log-run': 'Log a Run',
  route: 'Open the Route',
  paste: 'Paste a Table…',
  compare: 'Compare with Another Route…',
  runner: 'Choose Whose Logs Count…',
};

/** The buttons that end what a view lacks. */
export function remedies({ week }: Pick<RunnerFiles, 'week'>, ...wanted: readonly Remedy[]): RemedyOffer[] {
  return wanted.map((remedy) => ({
    remedy,
    text: remedy === 'minutes' && !week ? 'Create a Week File…' : texts[remedy],
  }));
}

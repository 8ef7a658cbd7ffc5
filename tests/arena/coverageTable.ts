/** The tables of how well forecasts agree with the truth, in Markdown: one for each question, a row for each kind of runner. */
import { agreement } from './coverageCounts.ts';
import type { Agreement } from './coverageCounts.ts';
import { groups, questions } from './forecastCoverage.ts';
import type { Question, Told } from './forecastCoverage.ts';
import { kinds } from './truth/kinds.ts';

/** The forecasts of each runner, by kind. */
export type ToldByKind = Readonly<Record<string, readonly (readonly Told[])[]>>;

const titles: Readonly<Record<Question, string>> = {
  practiceNow: 'rate in practice now',
  runNow: 'rate in a run now',
  practiceThen: 'rate in practice after two weeks',
  runThen: 'rate in a run after two weeks',
  leftAlone: 'rate in practice after two weeks without practice',
  gain: 'gain of the next blocks',
};

/** Fewer forecasts than this say nothing. */
const fewest = 10;

const percent = (share: number): string => (100 * share).toFixed(0);

/** With a sign, and without one where it rounds to nothing. */
function signed(value: number, digits: number): string {
  const size = Math.abs(value).toFixed(digits);
  if (Number(size) === 0) return size;
  return `${value < 0 ? '−' : '+'}${size}`;
}

function heldCell({ ranges, held, above, below, due }: Agreement, question: Question): string {
  if (ranges < fewest) return '–';
  const wanted = question === 'gain' ? ` of ${percent(due)}` : '';
  return `${percent(held.mean)} ± ${percent(held.error)}${wanted} (${percent(above)}/${percent(below)})`;
}

function biasCell({ count, bias, meanTruth }: Agreement, question: Question): string {
  if (count < fewest) return '–';
  if (question !== 'gain') return `${signed(100 * bias.mean, 1)} ± ${(100 * bias.error).toFixed(1)}`;
  return `${signed(bias.mean, 2)} ± ${bias.error.toFixed(2)} of ${meanTruth.toFixed(2)}`;
}

function tableOf(question: Question, told: ToldByKind): string {
  const present = groups.filter((group) =>
    Object.values(told).some(
      (runners) =>
        runners.flat().filter((t) => t.question === question && t.group === group).length >= fewest,
    ),
  );
  const head = [titles[question], ...present.flatMap((group) => [group, 'bias'])];
  const lines = Object.entries(told).map(([kind, runners]) => [
    kinds[kind]!.title,
    ...present.flatMap((group) => {
      const counts = agreement(
        runners.map((own) => own.filter((t) => t.question === question && t.group === group)),
      );
      return [heldCell(counts, question), biasCell(counts, question)];
    }),
  ]);
  return [head, ['---', ...head.slice(1).map(() => '---:')], ...lines]
    .map((line) => `| ${line.join(' | ')} |`)
    .join('\n');
}

/** One table for each question. */
export function coverageTables(told: ToldByKind): string {
  return questions.map((question) => tableOf(question, told)).join('\n\n');
}

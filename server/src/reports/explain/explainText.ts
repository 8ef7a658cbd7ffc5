import { formatDate } from '../../text/calendar.ts';
import { constantNotes } from '../../model/core/constants.ts';
import type { Explanation, Weighed } from '../../model/rank/explainTechnique.ts';
import type { PracticeDay } from '../../model/skill/practiceDays.ts';
import type { Count, Estimate, UseModel } from '../../model/core/types.ts';
import { alternativeSentence } from './cycleAlternative.ts';
import { gainUnit } from '../rank/gainFormat.ts';
import { usedConstants, type ExplainReport } from './explainReport.ts';
import {
  counted,
  formatFigures,
  formatHours,
  formatNumber,
  formatShare,
  formatShares,
  listed,
} from '../../text/format.ts';
import { facts, heading, list, prose, tableOf, type Page, type Part } from '../page.ts';

export interface ExplainWords {
  readonly title: string;
  readonly basis: string;
  readonly names: ReadonlyMap<string, string>;
  readonly segments: ReadonlyMap<string, string>;
}

/** Days of the log that are written out; the earlier ones are in the JSON. */
const shownDays = 21;
/** Numbers of blocks for which the forecast is written out. */
const shownBlocks = [1, 2, 3, 5, 7, 10, 14, 21, 28];

/** The explanation of a row for a person who wants to work it out again. */
export function explainPage(report: ExplainReport, words: ExplainWords): Page {
  const { explanation } = report;
  const nameOf = (id: string): string => words.names.get(id) ?? id;
  return {
    title: words.title,
    parts: [
      prose(words.basis),
      ...rowPart(report),
      ...daysPart(explanation),
      ...curvePart(explanation),
      ...runPart(explanation),
      ...worthPart(explanation, words),
      ...forecastPart(explanation),
      ...needsPart(explanation, nameOf),
      ...repeatPart(report),
      heading('The numbers behind it'),
      list(
        usedConstants.map((name) => {
          const { unit, meaning, source } = constantNotes[name];
          return { text: `${String(explanation.constants[name])} ${unit}: ${meaning} (${source})` };
        }),
      ),
    ],
  };
}

const three = (value: number): string => formatNumber(value, 3);
const two = (value: number): string => formatNumber(value, 2);
const ends = ({ low, high }: Pick<Estimate, 'low' | 'high'>): string => `${two(low)} to ${two(high)}`;

function rowPart({ row, place, explanation }: ExplainReport): Part[] {
  if (row === null || place === null)
    return [
      heading('The row'),
      prose(`It is not ranked: ${explanation.notRanked ?? 'no practice of it gains anything.'}`),
    ];
  return [
    heading('The row'),
    facts([
      ['Place', String(place)],
      [
        'Gain per hour',
        `${three(row.gainPerHour)} s (${ends(row)}), over ${counted(row.blocks, 'block')}, ${formatHours(row.hours)}`,
      ],
      ['Lands in practice', `${formatShare(row.practiceNow.mean)} (${formatShares(row.practiceNow)})`],
      [
        'Lands in a run',
        `${formatShare(row.runNow.mean)} (${formatShares(row.runNow)}), then ${formatShare(row.runThen.mean)} (${formatShares(row.runThen)})`,
      ],
      ['Competent then', formatShare(row.chanceCompetent)],
    ]),
  ];
}

function daysPart({ days, effective, level, pace, constants }: Explanation): Part[] {
  const { unitPractice, daySaturation, overnightGain, halfLife } = constants;
  const how =
    `E is effective practice in attempts. A block of n attempts in m minutes adds n · (${daySaturation}/m) · ` +
    `(e^(−M/${daySaturation}) − e^(−(M+m)/${daySaturation})), M the minutes of it earlier that day; an attempt in a run adds ` +
    `e^(−M/${daySaturation}). The night adds ${overnightGain} of what the day added. Idle days take from it: ln(1 + E/${unitPractice}) ` +
    `halves in ${halfLife} days. Attempts that nobody counted are taken at ${two(pace.perMinute)} a minute, ` +
    (pace.counted ? 'the median of the blocks that were counted.' : 'what the cycle allows.');
  const earlier = days.length - shownDays;
  return [
    heading('Practice so far'),
    prose(how),
    ...(days.length === 0
      ? [prose('Nothing is logged: E is 0.')]
      : [daysTable(days.slice(-shownDays), unitPractice)]),
    ...(earlier > 0 ? [prose(`${earlier} earlier days are left out here; --json has them.`)] : []),
    prose(
      `This morning E = ${formatFigures(effective)}, and x = ln(1 + E/${unitPractice}) = ${three(level)}.`,
    ),
  ];
}

function daysTable(days: readonly PracticeDay[], unit: number): Part {
  const tally = ({ landed, tries }: Count): string => (tries === 0 ? '·' : `${landed}/${tries}`);
  return tableOf(
    ['Day', 'Min', 'Attempts', 'Landed', 'In runs', 'E before', 'Adds', `ln(1+E/${unit})`],
    days.map((day) => [
      formatDate(day.day),
      day.blocks === 0 ? '·' : day.minutes.toFixed(0),
      day.blocks === 0 ? '·' : `${day.allCounted ? '' : 'about '}${day.attempts.toFixed(0)}`,
      tally(day.practice),
      tally(day.runs),
      day.before.toFixed(1),
      day.dose.toFixed(1),
      three(day.level),
    ]),
  );
}

function curvePart({
  difficulty,
  midway,
  suddenness,
  ceiling,
  floor,
  headStart,
  runner,
  practiceNow,
  constants,
}: Explanation): Part[] {
  const { midwayAtEasiest, midwayPerStep, concentration } = constants;
  const weighed = (values: readonly Weighed[], show: (value: number) => string): string =>
    values
      .map(({ value, prior, now }) => `${show(value)}: ${formatShare(prior)} → ${formatShare(now)}`)
      .join(', ');
  const share = (value: number): string => `${(100 * value).toFixed(0)} %`;
  const rows: [string, string][] = [
    [
      'Half-way c',
      `${midwayAtEasiest} + ${midwayPerStep} · (${difficulty} − 1) = ${two(midway.rated)} by its difficulty, ` +
        `${two(midway.withRunner)} with the runner's offset of ${two(runner.offset.mean)} (${ends(runner.offset)}), ` +
        `${two(midway.now.mean)} (${ends(midway.now)}) with its own counts`,
    ],
    ['Suddenness s', weighed(suddenness, String)],
    ['Ceiling h', weighed(ceiling, share)],
    ['Floor f', weighed(floor, share)],
  ];
  if (headStart.length > 0)
    rows.push([
      'Before the logs',
      `it was in runs before any practice was logged, so x counts with an unknown start; ln(1 + E/${constants.unitPractice}) of it: ` +
        weighed(headStart, String),
    ]);
  return [
    heading('How it lands in practice'),
    prose(
      'The rate is f + (h − f) / (1 + e^(−s · (x − c))). Every curve (c, s, h, f) is weighed by how well it explains the counts ' +
        `above, day by day, days differing as a beta-binomial of concentration ${concentration} does. Before → with the logs:`,
    ),
    facts(rows),
    prose(
      `Averaged over these curves it lands ${formatShare(practiceNow.mean)} in practice now (${formatShares(practiceNow)}).`,
    ),
  ];
}

function runPart({ loss, runner, runNow, constants }: Explanation): Part[] {
  return [
    heading('How it lands in a run'),
    prose(
      `A run takes k + κ from the log odds: k for the runner, ${two(runner.pressure.mean)} (${ends(runner.pressure)}) by all ` +
        `run counts (${constants.pressureMean} before any), κ for this technique (0 with a spread of ${constants.ownPressureSd} before any). ` +
        `Together ${two(loss.mean)} (${ends(loss)}), so that it lands ${formatShare(runNow.mean)} in a run now (${formatShares(runNow)}).`,
    ),
  ];
}

function worthPart(
  { uses, breakEven, once, worth, constants }: Explanation,
  { segments }: ExplainWords,
): Part[] {
  const [only] = uses;
  // Every other rate: as many as fit a line.
  const shown = worth.filter((_, i) => i % 2 === 0);
  const simple = uses.length === 1 && only !== undefined && isSimple(only);
  const formula = simple
    ? ` = ${two(only.misses[0]!.loses)} / (${two(only.saves.mean)} + ${two(only.misses[0]!.loses)}), loses / (saves + loses)`
    : ', the rate from which some use of it lowers V';
  return [
    heading('What landing is worth'),
    list(
      uses.map((use) => ({
        name: segments.get(use.segment) ?? use.segment,
        text: useSentence(use),
      })),
    ),
    prose(
      `V = T + ${constants.clockWeight} · (C − T) is what practice lowers: T the expected final time, C the clock for each finish. ` +
        (breakEven === null
          ? 'At no landing rate does trying it lower V.'
          : `Break-even: ${formatNumber(100 * breakEven, 1)} %${formula}.`),
    ),
    ...(once.length === 0
      ? []
      : [
          prose(
            `Counted with what comes before it in the order and shares a spot, an item or a run-ending segment with it: ` +
              `${listed(once.map(({ technique, rate }) => `${technique}, which lands ${formatShare(rate)} of the time in a run by then`))}.`,
          ),
        ]),
    ...(breakEven === null
      ? []
      : [
          tableOf(
            ['Lands in a run', ...shown.map(({ rate }) => `${(100 * rate).toFixed(0)} %`)],
            [['Seconds off V', ...shown.map(({ seconds }) => formatNumber(seconds, 1))]],
          ),
        ]),
  ];
}

function isSimple({ misses, maxTries, spot, backup, take, with: item, saves }: UseModel): boolean {
  const plain = misses.length === 1 && !misses[0]!.endsRun && maxTries === 1 && saves.mean > 0;
  return plain && spot === undefined && backup === undefined && take === undefined && item === undefined;
}

function useSentence(use: UseModel): string {
  const saves =
    use.saves.sd > 0
      ? `${two(use.saves.mean)} s, give or take ${two(use.saves.sd)}`
      : `${two(use.saves.mean)} s`;
  const misses = use.misses.map(({ chance, loses, endsRun }) => {
    const how = endsRun ? 'ends the run' : `loses ${two(loses)} s`;
    return use.misses.length === 1 ? how : `${how} (${formatShare(chance)} of misses)`;
  });
  const more = [
    ...(use.spot === undefined ? [] : [`in the spot ${use.spot}`]),
    ...(use.maxTries > 1 ? [`up to ${use.maxTries} tries, ${two(use.retrySeconds)} s each`] : []),
    ...(use.backup === undefined ? [] : [`then ${use.backup}`]),
    ...(use.take === undefined ? [] : [`takes ${use.take} for ${two(use.costs)} s`]),
    ...(use.with === undefined ? [] : [`needs ${use.with}`]),
  ];
  return [`landed it saves ${saves}`, `missed it ${listed(misses)}`, ...more].join('; ');
}

function forecastPart({ forecast }: Explanation): Part[] {
  if (forecast === null) return [];
  const { steps, blocks, blockMinutes } = forecast;
  const shown = steps.filter((step) => shownBlocks.includes(step.blocks) || step.blocks === blocks);
  const best = steps[blocks]!;
  return [
    heading('Blocks ahead'),
    prose(
      `One block of ${Number(blockMinutes.toFixed(1))} min a day, read on the morning after the last night; the gain is the expected drop in V ` +
        'against not practising, over all curves and losses.',
    ),
    tableOf(
      ['Blocks', 'x then', 'else', 'Practice', 'Run', 'Gain', 'Per hour'],
      shown.map((step) => [
        `${step.blocks}${step.blocks === blocks ? ' (stop)' : ''}`,
        three(step.level),
        three(step.idleLevel),
        formatShare(step.practice),
        formatShare(step.run),
        `${three(step.gain)} s`,
        `${three(step.gainPerHour)} s`,
      ]),
    ),
    prose(
      `The stop is where the set gains most per hour: ${three(best.gain)} s / ${two(best.hours)} h = ${three(best.gainPerHour)} s an hour.`,
    ),
  ];
}

function needsPart({ needs, forecast, constants }: Explanation, nameOf: (id: string) => string): Part[] {
  const lines = needs.map(({ technique, practiceNow, ready }) => ({
    name: nameOf(technique),
    text: `needed first, ${ready ? 'and ready' : 'and not ready yet'}: lands ${formatShare(practiceNow)} in practice, ready from ${formatShare(constants.readyRate)} or once it is in the run`,
  }));
  const set =
    forecast === null
      ? undefined
      : forecast.company.length > 0
        ? `It is practised together with ${listed(forecast.company.map(nameOf))}: of all sets that hold their own needs, the one with the best gain per hour, ${three(forecast.setRate)} s. The order of the ranking goes by that number.`
        : `It is ranked by itself: no set with others gains more per hour than its ${three(forecast.setRate)} s.`;
  if (lines.length === 0 && set === undefined) return [];
  return [
    heading('Needs and company'),
    ...(lines.length > 0 ? [list(lines)] : []),
    ...(set === undefined ? [] : [prose(set)]),
  ];
}

function repeatPart({ halved, alternatives }: ExplainReport): Part[] {
  const all = [...(halved === undefined ? [] : [halved]), ...alternatives];
  if (all.length === 0) return [];
  return [
    heading('A quicker repeat'),
    list(all.map((one) => ({ text: alternativeSentence(one, gainUnit({ objective: 'time' })) }))),
  ];
}

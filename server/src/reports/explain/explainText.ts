import { nameLookup } from '../../queries/names.ts';
import { formatDate } from '../../text/calendar.ts';
import { constantNotes, defaultConstants } from '../../model/core/constants.ts';
import type { Explanation, WeightedBand, WeightedValue } from '../../model/rank/explainTechnique.ts';
import type { PracticeDay } from '../../model/skill/practiceDays.ts';
import type { AttemptCount, Estimate, UseModel } from '../../model/core/types.ts';
import type { CycleAlternative } from '../../model/rank/cycleAlternative.ts';
import { cycleAlternativeSentence } from './cycleAlternative.ts';
import type { CurvePicture } from './curvePicture.ts';
import { objectives } from '../../model/rank/objectives/objectives.ts';
import { gainFormat } from '../rank/gainFormat.ts';
import { nameTechniques } from '../techniqueNames.ts';
import { plainLines, type PlainFacts } from './plainLines.ts';
import { preferenceSentence } from './preferenceText.ts';
import { usedConstants, type ExplainReport } from './explainReport.ts';
import {
  formatCount,
  formatTwoFigures,
  formatHours,
  formatNumber,
  formatPercent,
  formatPercentRange,
  formatList,
} from '../../text/format.ts';
import { facts, heading, bulletList, prose, tableOf, type Page, type PagePart } from '../page.ts';

export interface ExplainPageOptions {
  readonly title: string;
  readonly basis: string;
  /** A sentence on where the technique stands; it is the first line. */
  readonly standing?: string;
  /** Whether every number and formula follows the plain lines. */
  readonly numbers: boolean;
  readonly names: ReadonlyMap<string, string>;
  readonly segments: ReadonlyMap<string, string>;
  /** Its landing rate in practice over the weeks; left out where it is not drawn. */
  readonly curve?: CurvePicture | undefined;
}

/** How many days of the log are shown; the JSON has the earlier ones too. */
const shownDays = 21;
/** Numbers of blocks for which the forecast is shown. */
const shownBlocks = [1, 2, 3, 5, 7, 10, 14, 21, 28];

/** The explanation of a row: five plain lines, and, where they are wanted, the numbers to calculate it again. */
export function explainPage(report: ExplainReport, words: ExplainPageOptions): Page {
  const nameOf = nameLookup(words.names);
  const preference = report.resetPreference;
  return {
    title: words.title,
    parts: [
      bulletList(plainLines(plainFacts(report, words, nameOf)).map((text) => ({ text }))),
      ...curveParts(words.curve),
      ...(preference === null ? [] : [prose(preferenceSentence(preference, nameOf))]),
      prose(words.basis),
      ...(words.numbers
        ? numberParts(report, words, nameOf)
        : repeatPart([...(report.quicker === undefined ? [] : [report.quicker]), ...report.alternatives])),
    ],
  };
}

/** A full bar is a rate of 100 %; the weeks after the line are expected. */
function curveParts(curve: CurvePicture | undefined): PagePart[] {
  if (curve === undefined) return [];
  const { from, before, after, to, sentence } = curve;
  return [{ kind: 'curve', from, before, after, to }, prose(sentence)];
}

function plainFacts(
  { explanation, standing: { kind }, row, place, ranked, others }: ExplainReport,
  { standing, names }: ExplainPageOptions,
  nameOf: (id: string) => string,
): PlainFacts {
  const { runNow, breakEven, resetWeight, needs, opens, notRanked } = explanation;
  return {
    kind,
    ...{ standing, runNow, breakEven, resetWeight },
    gains: row ?? undefined,
    notRanked: notRanked === null ? undefined : nameTechniques(notRanked, names),
    place: place === null ? undefined : { place, of: ranked },
    needs: needs.map(({ technique, ready }) => ({ name: nameOf(technique), ready })),
    opens: opens.map(nameOf),
    others,
  };
}

/** Every number of the row with the formula it comes from. */
function numberParts(
  report: ExplainReport,
  words: ExplainPageOptions,
  nameOf: (id: string) => string,
): PagePart[] {
  const { explanation, halved, alternatives } = report;
  return [
    ...rowPart(report, words.names),
    ...daysPart(explanation),
    ...curvePart(explanation),
    ...runPart(explanation),
    ...worthPart(explanation, words, nameOf),
    ...forecastPart(explanation),
    ...needsPart(explanation, nameOf),
    ...repeatPart([...(halved === undefined ? [] : [halved]), ...alternatives]),
    heading('The numbers behind it'),
    bulletList(
      usedConstants.map((name) => {
        const { unit, meaning, source } = constantNotes[name];
        return { text: `${String(explanation.constants[name])} ${unit}: ${meaning} (${source})` };
      }),
    ),
  ];
}

const threeDigits = (value: number): string => formatNumber(value, 3);
const twoDigits = (value: number): string => formatNumber(value, 2);
const rangeText = ({ low, high }: Pick<Estimate, 'low' | 'high'>): string =>
  `${twoDigits(low)} to ${twoDigits(high)}`;

function rowPart({ row, place, explanation }: ExplainReport, names: ReadonlyMap<string, string>): PagePart[] {
  if (row === null || place === null)
    return [
      heading('The row'),
      prose(
        `It is not ranked. ${nameTechniques(explanation.notRanked ?? 'No practice of it gains anything.', names)}`,
      ),
    ];
  return [
    heading('The row'),
    facts([
      ['Place', String(place)],
      [
        'Gain per hour',
        `${threeDigits(row.gainPerHour)} s (${rangeText(row)}), over ${formatCount(row.blocks, 'block')}, ${formatHours(row.hours)}`,
      ],
      [
        'Lands in practice',
        `${formatPercent(row.practiceNow.mean)} (${formatPercentRange(row.practiceNow)})`,
      ],
      [
        'Lands in a run',
        `${formatPercent(row.runNow.mean)} (${formatPercentRange(row.runNow)}), then ${formatPercent(row.runThen.mean)} (${formatPercentRange(row.runThen)})`,
      ],
      ['Competent then', formatPercent(row.chanceCompetent)],
    ]),
  ];
}

function daysPart({ days, effective, level, pace, constants }: Explanation): PagePart[] {
  const { unitPractice, daySaturation, overnightGain, halfLife } = constants;
  const how =
    `E is effective practice in attempts. A block of n attempts in m minutes adds n · (${daySaturation}/m) · ` +
    `(e^(−M/${daySaturation}) − e^(−(M+m)/${daySaturation})), M the minutes of it earlier that day; an attempt in a run adds ` +
    `e^(−M/${daySaturation}). The night adds ${overnightGain} of what the day added. Idle days take from it: ln(1 + E/${unitPractice}) ` +
    `halves in ${halfLife} days. Attempts that nobody counted are taken at ${twoDigits(pace.perMinute)} a minute, ` +
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
      `This morning E = ${formatTwoFigures(effective)}, and x = ln(1 + E/${unitPractice}) = ${threeDigits(level)}.`,
    ),
  ];
}

function daysTable(days: readonly PracticeDay[], unit: number): PagePart {
  const tally = ({ landed, tries }: AttemptCount): string => (tries === 0 ? '·' : `${landed}/${tries}`);
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
      threeDigits(day.level),
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
}: Explanation): PagePart[] {
  const { midwayAtEasiest, midwayPerStep, concentration } = constants;
  const weighed = (values: readonly WeightedValue[], show: (value: number) => string): string =>
    values
      .map(({ value, prior, now }) => `${show(value)}: ${formatPercent(prior)} → ${formatPercent(now)}`)
      .join(', ');
  const percent = (value: number): string => (100 * value).toFixed(0);
  const bands = (values: readonly WeightedBand[]): string =>
    values
      .map(({ from, to, prior, now }) => {
        const band = from === to ? percent(from) : `${percent(from)}–${percent(to)}`;
        return `${band} %: ${formatPercent(prior)} → ${formatPercent(now)}`;
      })
      .join(', ');
  const rows: [string, string][] = [
    [
      'Half-way c',
      `${twoDigits(midwayAtEasiest)} + ${twoDigits(midwayPerStep)} · (${difficulty} − 1) = ${twoDigits(midway.rated)} by its difficulty, ` +
        (midway.withOthers === midway.rated
          ? ''
          : `${twoDigits(midway.withOthers)} with what other runners found out, `) +
        `${twoDigits(midway.withRunner)} with the runner's offset of ${twoDigits(runner.offset.mean)} (${rangeText(runner.offset)}), ` +
        `${twoDigits(midway.now.mean)} (${rangeText(midway.now)}) with its own counts`,
    ],
    ['Suddenness s', weighed(suddenness, (value) => (value === 0 ? 'exponential' : String(value)))],
    ['Ceiling h', bands(ceiling)],
    ['Floor f', bands(floor)],
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
      'The rate is f + (h − f) / (1 + e^(−s · (x − c))), or, where each attempt closes the same share of the gap (exponential), ' +
        'f + (h − f) · (1 − 2^(−e^(x − c))). Every curve (c, s, h, f) is weighed by how well it explains the counts above, day by ' +
        `day, days at rate p differing as a beta-binomial of concentration ${concentration} / (4 · p · (1 − p)) does. Before → with the logs:`,
    ),
    facts(rows),
    prose(
      `Averaged over these curves it lands ${formatPercent(practiceNow.mean)} in practice now (${formatPercentRange(practiceNow)}).`,
    ),
  ];
}

function runPart({ loss, runner, runNow, constants }: Explanation): PagePart[] {
  const usual = constants.pressureMean === defaultConstants.pressureMean;
  const fromBlocks = usual
    ? ''
    : `, ${defaultConstants.pressureMean} without the order of tries in your blocks`;
  return [
    heading('How it lands in a run'),
    prose(
      `A run takes k + κ from the log odds: k for the runner, ${twoDigits(runner.pressure.mean)} (${rangeText(runner.pressure)}) by all ` +
        `run counts (${constants.pressureMean} before any${fromBlocks}), κ for this technique (0 with a spread of ${constants.ownPressureSd} before any). ` +
        `Together ${twoDigits(loss.mean)} (${rangeText(loss)}), so that it lands ${formatPercent(runNow.mean)} in a run now (${formatPercentRange(runNow)}).`,
    ),
  ];
}

function worthPart(
  { uses, breakEven, once, worth, constants }: Explanation,
  { segments }: ExplainPageOptions,
  nameOf: (id: string) => string,
): PagePart[] {
  const [only] = uses;
  // Every second rate: as many as fit into a line.
  const shown = worth.filter((_, i) => i % 2 === 0);
  const simple = uses.length === 1 && only !== undefined && isSimple(only);
  const formula = simple
    ? ` = ${twoDigits(only.misses[0]!.loses)} / (${twoDigits(only.saves.mean)} + ${twoDigits(only.misses[0]!.loses)}), loses / (saves + loses)`
    : ', the rate from which some use of it lowers V';
  return [
    heading('What landing is worth'),
    bulletList(
      uses.map((use) => ({
        name: segments.get(use.segment) ?? use.segment,
        text: useSentence(use, nameOf),
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
              `${formatList(once.map(({ technique, rate }) => `${nameOf(technique)}, which lands ${formatPercent(rate)} of the time in a run by then`))}.`,
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

function useSentence(use: UseModel, nameOf: (id: string) => string): string {
  const saves =
    use.saves.sd > 0
      ? `${twoDigits(use.saves.mean)} s, give or take ${twoDigits(use.saves.sd)}`
      : `${twoDigits(use.saves.mean)} s`;
  const misses = use.misses.map(({ chance, loses, endsRun }) => {
    const how = endsRun ? 'ends the run' : `loses ${twoDigits(loses)} s`;
    return use.misses.length === 1 ? how : `${how} (${formatPercent(chance)} of misses)`;
  });
  const more = [
    ...(use.spot === undefined ? [] : [`in the spot ${use.spot}`]),
    ...(use.maxTries > 1 ? [`up to ${use.maxTries} tries, ${twoDigits(use.retrySeconds)} s each`] : []),
    ...(use.backup === undefined ? [] : [`then ${nameOf(use.backup)}`]),
    ...(use.take === undefined ? [] : [`takes ${use.take} for ${twoDigits(use.costs)} s`]),
    ...(use.with === undefined ? [] : [`needs ${use.with}`]),
  ];
  return [`landed it saves ${saves}`, `missed it ${formatList(misses)}`, ...more].join('; ');
}

function forecastPart({ forecast }: Explanation): PagePart[] {
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
        threeDigits(step.level),
        threeDigits(step.idleLevel),
        formatPercent(step.practice),
        formatPercent(step.run),
        `${threeDigits(step.gain)} s`,
        `${threeDigits(step.gainPerHour)} s`,
      ]),
    ),
    prose(
      `The stop is where the set gains most per hour: ${threeDigits(best.gain)} s / ${twoDigits(best.hours)} h = ${threeDigits(best.gainPerHour)} s an hour.`,
    ),
  ];
}

function needsPart({ needs, forecast, constants }: Explanation, nameOf: (id: string) => string): PagePart[] {
  const lines = needs.map(({ technique, practiceNow, ready }) => ({
    name: nameOf(technique),
    text: `needed first, ${ready ? 'and ready' : 'and not ready yet'}: lands ${formatPercent(practiceNow)} in practice, ready from ${formatPercent(constants.readyRate)} or once it is in the run`,
  }));
  const set =
    forecast === null
      ? undefined
      : forecast.company.length > 0
        ? `It is practised together with ${formatList(forecast.company.map(nameOf))}: of all sets that hold their own needs, the one with the best gain per hour, ${threeDigits(forecast.setRate)} s. That number gives the order of the ranking.`
        : `It is ranked alone: no set with others gains more per hour than its ${threeDigits(forecast.setRate)} s.`;
  if (lines.length === 0 && set === undefined) return [];
  return [
    heading('Needs and company'),
    ...(lines.length > 0 ? [bulletList(lines)] : []),
    ...(set === undefined ? [] : [prose(set)]),
  ];
}

function repeatPart(all: readonly CycleAlternative[]): PagePart[] {
  if (all.length === 0) return [];
  return [
    heading('A quicker repeat'),
    bulletList(all.map((one) => ({ text: cycleAlternativeSentence(one, gainFormat(objectives[0].gain)) }))),
  ];
}

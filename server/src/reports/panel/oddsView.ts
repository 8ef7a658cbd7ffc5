import { formatTime } from '../../text/time.ts';
import type { RunTimes } from '../../model/run/runTimes.ts';
import type { OddsView } from '../../protocol/panel/oddsView.ts';
import type { Fact } from '../../protocol/panel/viewParts.ts';
import { decimalsFor, formatMinutes, formatNumber, formatPercent } from '../../text/format.ts';
import type { OddsReport } from '../odds/oddsReport.ts';
import { formatChance, hasResetTimes, oddsBasis, resetLineText } from '../odds/oddsText.ts';
import { practiseOrRunText, splitColumns, splitRows } from '../odds/practiseOrRunReport.ts';
import { timeTicks } from './timeTicks.ts';
import { numberTicks, segmentName, type PanelNames } from './panelNames.ts';
import { sanitizeForTerminal } from '../../safeText/terminal.ts';

/** About as many rows as the table of chances has. */
const chanceRows = 9;

/**
 * The odds of a run as the panel shows them.
 *
 * @param basis whole sentences on the day that they are for, and on the logs
 */
export function oddsView(report: OddsReport, times: RunTimes, names: PanelNames, basis: string): OddsView {
  const { quantiles, target, chance } = report;
  const digits = Math.min(2, decimalsFor({ low: quantiles.p10, high: quantiles.p90 }));
  const clock = (seconds: number): string => formatTime(seconds, digits);
  const targetText = target === null ? null : formatTime(target, target % 1 === 0 ? 0 : 1);
  const [first, last] = [times.bars[0], times.bars.at(-1)];
  const width = first ? first.to - first.from : 1;
  const barClock = (seconds: number): string => formatTime(seconds, width < 1 ? 1 : 0);
  const finishes = report.clockPerFinish !== null;
  return {
    summary: finishes
      ? `A finished run takes ${clock(quantiles.p10)} to ${clock(quantiles.p90)} in 8 of 10 cases.` +
        (chance === null || targetText === null ? '' : ` ${formatChance(chance)} of runs beat ${targetText}.`)
      : 'No run is expected to reach the end.',
    facts: finishes ? runFacts(report, clock, targetText) : [],
    bins: times.bars.map(({ from, to, share }) => ({
      from,
      to,
      share,
      label: `${barClock(from)} to ${barClock(to)}`,
      text: formatPercent(share),
    })),
    ticks: first && last ? timeTicks(first.from, last.to) : [],
    target: target === null || targetText === null ? null : { seconds: target, text: `Target ${targetText}` },
    shareTicks: numberTicks(
      0,
      times.bars.reduce((most, { share }) => Math.max(most, share), 0),
      (share) => `${formatNumber(100 * share, share > 0 && share < 0.01 ? 1 : 0)} %`,
    ),
    ...resetPart(report, times, names),
    chances: finishes ? chancesOf(report, times, barClock, targetText) : [],
    practiseOrRun: report.practiseOrRun && {
      text: practiseOrRunText(report.practiseOrRun),
      columns: splitColumns,
      rows: splitRows(report.practiseOrRun),
    },
    bests: finishes
      ? report.bestAfter.map(({ runs, mean }) => ({ runs: String(runs), best: clock(mean) }))
      : [],
    basis: [basis, ...oddsBasis(report, { names: names.techniques, segments: names.segments, with: [] })].map(
      sanitizeForTerminal,
    ),
  };
}

/**
 * Chances that a run beats the edge of a bar, about every ninth part of the chart, and the target among them. They are of
 * all runs that are started and never reset.
 */
function chancesOf(
  { finishChance, target, chance }: OddsReport,
  { bars }: RunTimes,
  clock: (seconds: number) => string,
  targetText: string | null,
): OddsView['chances'] {
  const every = Math.max(1, Math.ceil(bars.length / chanceRows));
  let under = 0;
  const edges = bars.map(({ to, share }) => {
    under += share;
    return {
      at: to,
      time: clock(to),
      chance: formatChance(finishChance * Math.min(1, under)),
      isTarget: false,
    };
  });
  const kept = edges.filter(({ at }, i) => i % every === every - 1 && at !== target);
  if (target === null || chance === null || targetText === null) return kept.map(withoutPlace);
  const aimed = { at: target, time: targetText, chance: formatChance(chance), isTarget: true };
  return [...kept, aimed].sort((a, b) => a.at - b.at).map(withoutPlace);
}

function withoutPlace({ time, chance, isTarget }: OddsView['chances'][number]): OddsView['chances'][number] {
  return { time, chance, isTarget };
}

function runFacts(report: OddsReport, clock: (seconds: number) => string, targetText: string | null): Fact[] {
  const { finalTime, quantiles, finishChance, clockPerFinish, chance, perHour } = report;
  const facts: Fact[] = [
    { label: 'Final time', text: `${clock(finalTime)} expected` },
    { label: '8 of 10 finished runs', text: `${clock(quantiles.p10)} to ${clock(quantiles.p90)}` },
    { label: 'Reach the end', text: `${formatPercent(finishChance)} of runs, if none is reset` },
  ];
  if (clockPerFinish !== null) {
    facts.push({ label: 'Clock for each finish', text: formatTime(clockPerFinish, 0) });
  }
  if (chance !== null && targetText !== null) {
    facts.push({ label: `Beat ${targetText}`, text: `${formatChance(chance)} of runs` });
  }
  if (perHour !== null && perHour.line > 0) {
    facts.push({ label: 'Beaten with the reset line', text: intervalText(perHour.line) });
    facts.push({ label: 'Beaten without any reset', text: intervalText(perHour.never) });
  }
  return facts;
}

/** The time that one beaten target takes on average, from the number of beaten targets per hour. */
function intervalText(perHour: number): string {
  if (!(perHour > 1e-4)) return 'practically never';
  const hours = 1 / perHour;
  if (hours < 1) return `once in ${formatMinutes(60 * hours)} of runs`;
  return `once in ${formatNumber(hours, hours < 10 ? 1 : 0)} h of runs`;
}

function resetPart(
  report: OddsReport,
  { clocks: expected }: RunTimes,
  names: PanelNames,
): Pick<OddsView, 'resetLine' | 'resetText'> {
  const { resetLine, target } = report;
  const clocks = new Map(expected.map(({ segment, clock }) => [segment, clock]));
  const line = resetLine.map(({ segment, time }, index) => {
    const name = segmentName(names, segment);
    const usual = clocks.get(segment) ?? 0;
    const room = time === null ? null : time - usual;
    const last = index === resetLine.length - 1;
    const text = time === null ? (last ? 'the end' : 'never') : `past ${formatTime(time, 0)}`;
    return { segment, name, text, leeway: marginText(room) };
  });
  const resetText =
    target === null
      ? 'A reset line needs a target: write target: into the week file or the route.'
      : resetLineText(report);
  return { resetLine: hasResetTimes(report) ? line : [], resetText };
}

/** How much sooner or later than an average run's a reset time is, in words. */
function marginText(seconds: number | null): string {
  if (seconds === null) return '';
  const size = formatNumber(Math.abs(seconds), 0);
  if (size === '0') return 'the same';
  return `${size} s ${seconds < 0 ? 'earlier' : 'later'}`;
}

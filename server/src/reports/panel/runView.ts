import { formatTime } from '../../text/time.ts';
import type { RunTimes } from '../../model/run/runTimes.ts';
import type { RunView } from '../../protocol/panel/runView.ts';
import type { Fact } from '../../protocol/panel/viewParts.ts';
import { decimalsFor, formatMinutes, formatNumber, formatPercent } from '../../text/format.ts';
import type { OddsReport } from '../odds/oddsReport.ts';
import { formatChance, hasResetTimes, resetLineText } from '../odds/oddsText.ts';
import { timeTicks } from './timeTicks.ts';
import { segmentName, type PanelNames } from './panelNames.ts';

/** The odds of a run as the panel shows them. */
export function runView(report: OddsReport, times: RunTimes, names: PanelNames): RunView {
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
    ...resetPart(report, times, names),
  };
}

function runFacts(report: OddsReport, clock: (seconds: number) => string, targetText: string | null): Fact[] {
  const { finalTime, quantiles, finishChance, clockPerFinish, chance, perHour, bestAfter } = report;
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
  const ten = bestAfter.find(({ runs }) => runs === 10);
  if (ten) facts.push({ label: 'Best of 10 finished runs', text: `${clock(ten.mean)} expected` });
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
): Pick<RunView, 'resetLine' | 'resetText'> {
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

import type { RunnerSummary } from '../model/core/results.ts';
import type { Estimate } from '../model/core/types.ts';
import { formatNumber, formatPercent, formatPercentRange } from '../text/format.ts';

/** With a share of the usual outside of these, the scale of difficulties is worth a sentence. */
const plainSteps = { least: 0.7, most: 1.3 };

/**
 * Sentences on what the logs tell of the runner: how hard techniques are for them, how much lower landing rates are in
 * runs than in practice, and where the written difficulties say less or more than usual.
 */
export function runnerSentence({ offset, pressure, step }: RunnerSummary, offsetPerStep: number): string {
  const steps = scaleEstimate(offset, 1 / offsetPerStep);
  // A larger loss means a lower rate, so the ends of the range change places.
  const half: Estimate = {
    mean: runRateUnderLoss(pressure.mean),
    low: runRateUnderLoss(pressure.high),
    high: runRateUnderLoss(pressure.low),
  };
  const apart = formatNumber(Math.abs(steps.mean), 1);
  const side = steps.mean < 0 ? 'harder' : 'easier';
  const difficulty =
    Number(apart) === 0 ? 'about as hard as rated' : `about ${apart} steps of difficulty ${side} than rated`;
  return (
    `The runner: techniques are ${difficulty} (${rangeText(steps)}). What lands half the time in practice ` +
    `lands about ${formatPercent(half.mean)} of the time in a run (${formatPercentRange(half)}).${stepText(step)}`
  );
}

function stepText(step: number): string {
  if (step > plainSteps.least && step < plainSteps.most) return '';
  const less = step < 1;
  return (
    ` The difficulties written in the route say ${less ? 'little' : 'more than usual'} about how long a technique takes this runner: ` +
    `a step counts ${less ? 'only ' : ''}${formatNumber(step, 1)} times what it usually does.`
  );
}

function rangeText({ low, high }: Estimate): string {
  const side = (steps: number) => `${formatNumber(Math.abs(steps), 1)} ${steps < 0 ? 'harder' : 'easier'}`;
  return `${side(low)} to ${side(high)}`;
}

function scaleEstimate({ mean, low, high }: Estimate, by: number): Estimate {
  return { mean: mean * by, low: low * by, high: high * by };
}

/** The landing rate in a run of a technique that lands half the time in practice; `loss` in log odds. */
export function runRateUnderLoss(loss: number): number {
  return 1 / (1 + Math.exp(loss));
}

import { assess, type Assessment, type RankInput } from '../../model/index.ts';

/** The forecasts that the model must compute for one project: plain data, so that a thread can be handed it. */
export interface ForecastTask {
  readonly input: RankInput;
  /** Ids of the techniques to forecast. */
  readonly concerned: ReadonlySet<string>;
}

/** A task with only those fields of the model input that are needed: everything in it is copied to a thread. */
export function forecastTask(
  { route, logs, asOfDay, options, constants }: Required<RankInput>,
  concerned: ReadonlySet<string>,
): ForecastTask {
  return { input: { route, logs, asOfDay, options, constants }, concerned };
}

/** Estimates by technique id. */
export type ForecastResult = ReadonlyMap<string, Assessment>;

/** The results, in the order of the tasks; each depends on its own task only. */
export function runForecasts(tasks: readonly ForecastTask[]): ForecastResult[] {
  return tasks.map(({ input, concerned }) => assess(input, undefined, concerned));
}

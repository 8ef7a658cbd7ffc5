import { assess, type Assessment, type RankInput } from '../../model/index.ts';

/** What is asked of the model about one project: plain data, so that a thread can be handed it. */
export interface ForecastTask {
  readonly input: RankInput;
  /** Ids of the techniques asked about. */
  readonly concerned: ReadonlySet<string>;
}

/** The question, without what else its bearer knows: a thread would be handed all of it. */
export function forecastTask(
  { route, logs, asOfDay, options, constants }: Required<RankInput>,
  concerned: ReadonlySet<string>,
): ForecastTask {
  return { input: { route, logs, asOfDay, options, constants }, concerned };
}

/** Estimates by technique id. */
export type ForecastResult = ReadonlyMap<string, Assessment>;

/** The model's answers, in the order asked; each depends on its own question only. */
export function runForecasts(asked: readonly ForecastTask[]): ForecastResult[] {
  return asked.map(({ input, concerned }) => assess(input, undefined, concerned));
}

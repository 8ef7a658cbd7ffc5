import { weekDefaults } from '../files/week.ts';
import type { State } from '../files/documents.ts';
import type { Constants } from '../model/constants.ts';
import type { Logs, RankOptions, RouteModel } from '../model/types.ts';
import { lastDay, modelLogs } from './modelLogs.ts';
import { currentId, type Project } from './project.ts';
import { routeModel } from './routeModel.ts';
import type { Own } from './runner.ts';
import { statesOf } from './states.ts';

/** All that the model needs to be asked about a project: the same files and date always give the same. */
export interface Question {
  readonly route: RouteModel;
  readonly logs: Logs;
  /** Day number of the morning on which it is asked. */
  readonly asOfDay: number;
  readonly options: RankOptions;
  readonly constants: Partial<Constants>;
  readonly states: ReadonlyMap<string, State>;
}

/** The day asked about where nothing is logged and no date is given. */
const epoch = 0;

/**
 * Puts a project's files into the model's terms.
 *
 * @param asOf day number; left out: the day after the last entry of the logs
 */
export function questionOf(project: Project, own: Own, asOf?: number, all = false): Question {
  const week = own.week?.document;
  const dayStarts = week?.dayStarts ?? weekDefaults.dayStarts;
  const last = lastDay(own, dayStarts);
  const asOfDay = asOf ?? (last === undefined ? epoch : last + 1);
  const states = statesOf(project, own, dayStarts, asOfDay);
  const model = week?.model ?? {};
  return {
    route: routeModel(project, own.week, states),
    logs: modelLogs(project, own, dayStarts, asOfDay),
    asOfDay,
    options: {
      blockMinutes: week?.block ?? weekDefaults.block,
      confidence: week?.confidence ?? weekDefaults.confidence,
      all,
      leaveOut: week?.leaveOut.map(({ id }) => currentId(project, id) ?? id) ?? [],
    },
    constants: {
      ...(model.unit_practice !== undefined && { unitPractice: model.unit_practice }),
      ...(model.day_saturation !== undefined && { daySaturation: model.day_saturation }),
      ...(model.overnight_gain !== undefined && { overnightGain: model.overnight_gain }),
      ...(model.half_life !== undefined && { halfLife: model.half_life }),
      ...(model.clock_weight !== undefined && { clockWeight: model.clock_weight }),
    },
    states,
  };
}

import type { SegmentTime } from '../../model/run/segmentTimes.ts';
import { withSegmentTimes } from '../../model/run/segmentTimes.ts';
import type { RouteModel } from '../../model/core/types.ts';
import type { ModelInput } from '../../queries/modelInput.ts';

/** One side's route with the segment times that it is compared with, and where they come from. */
export interface SideTimes {
  readonly route: RouteModel;
  /** Numbers of segments whose time is from runs, from the week file, and of all. */
  readonly runs: number;
  readonly week: number;
  readonly all: number;
  /** Of those from runs: moved by the difference between the route that was run and this one. */
  readonly moved: number;
}

/**
 * The segment times of one side. A route with logs of its own has its times as everywhere else, so that its expected time
 * does not depend on what it is compared with. A route that borrows its logs, such as a former revision, has the times of
 * the runs as well; where its file gives a segment another time than the route that was run, they move by the difference,
 * since runs along one route must not hide what the other changes.
 *
 * @param run input of the route that the logs belong to; undefined where they are the side's own
 */
export function sideTimes({ times }: ModelInput, run: ModelInput | undefined): SideTimes {
  const { asWritten, written } = times;
  const all = asWritten.segments.length;
  const week = asWritten.segments.filter(({ id }) => written.has(id)).length;
  if (run === undefined) {
    const runs = times.fits.filter(({ timeFrom }) => timeFrom === 'runs').length;
    return { route: times.route, runs, week, all, moved: 0 };
  }
  const fits = new Map(run.times.fits.map((fit) => [fit.segment, fit]));
  const ran = new Map(run.times.asWritten.segments.map((segment) => [segment.id, segment]));
  let moved = 0;
  const used = asWritten.segments.flatMap((segment): SegmentTime[] => {
    const [fit, before] = [fits.get(segment.id), ran.get(segment.id)];
    if (fit?.timeFrom !== 'runs' || before === undefined || written.has(segment.id)) return [];
    const by = segment.time - before.time;
    if (by !== 0) moved += 1;
    const spread = segment.spread === before.spread ? fit.spread : segment.spread;
    return [{ ...fit, time: Math.max(0, fit.time + by), spread }];
  });
  return { route: withSegmentTimes(asWritten, used), runs: used.length, week, all, moved };
}

import { resolveTarget } from '../../queries/target.ts';
import type { LookupContext } from './lookupContext.ts';
import type { SourceRef } from './sourceRef.ts';

/** The time to beat and where it is written; undefined where there is none, or where it comes from another route. */
export function targetRef({
  project,
  own,
}: LookupContext): { seconds: number; place: SourceRef } | undefined {
  const target = resolveTarget(project, own);
  const inRoute = project.route.document.target !== undefined;
  if (!target || (target.from === 'route' && !inRoute)) return undefined;
  const uri = target.from === 'week' ? own.week!.uri : project.route.uri;
  return { seconds: target.seconds, place: { uri, path: ['target'], part: 'value' } };
}

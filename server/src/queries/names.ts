import type { Project } from '../workspace/project.ts';

/** Names of a project's techniques by id. */
export function techniqueNamesOf(project: Project): ReadonlyMap<string, string> {
  return new Map([...project.techniques].map(([id, { name }]) => [id, name]));
}

/** The name of a technique by its id, for sentences that people read; an id without a name stays as it is. */
export function nameLookup(names: ReadonlyMap<string, string>): (id: string) => string {
  return (id) => names.get(id) ?? id;
}

/** Names of a project's segments by id. */
export function segmentNamesOf(project: Project): ReadonlyMap<string, string> {
  return new Map(project.segments.map(({ id, name }) => [id, name]));
}

/** The difficulty written for each technique. */
export function difficultiesOf(project: Project): ReadonlyMap<string, number> {
  return new Map([...project.techniques].map(([id, { difficulty }]) => [id, difficulty]));
}

/** Names of techniques and segments of two routes; where they differ, those of the second. */
export function mergedNamesOf(a: Project, b: Project) {
  const named = [a, b];
  return {
    names: new Map(
      named.flatMap(({ techniques }) => [...techniques].map(([id, { name }]) => [id, name] as const)),
    ),
    segments: new Map(named.flatMap(({ segments }) => segments.map(({ id, name }) => [id, name] as const))),
  };
}

import { currentTechniqueId, type Project } from '../../workspace/project.ts';

/**
 * Techniques in the order in which somebody is likely to write them: those with the latest day of practice or of a try
 * in a run first, then those that the route uses most often, then in the order of the route.
 */
export function techniquesByUse(project: Project): string[] {
  const lastDay = new Map<string, number>();
  const note = (technique: string, day: number): void => {
    const id = currentTechniqueId(project, technique);
    if (id !== undefined) lastDay.set(id, Math.max(day, lastDay.get(id) ?? day));
  };
  for (const { document } of project.practice)
    for (const { start, blocks } of document.sessions)
      for (const { technique, tried } of blocks) {
        if (technique !== undefined) note(technique, start.date);
        for (const one of tried) note(one.technique, start.date);
      }
  for (const { document } of project.runs)
    for (const { start, tried } of document.runs) for (const one of tried) note(one.technique, start.date);

  const uses = new Map<string, number>();
  const used = project.segments.flatMap((segment) =>
    segment.uses.flatMap(({ technique, backup }) => [technique, ...(backup === undefined ? [] : [backup])]),
  );
  const needed = [...project.techniques.values()].flatMap(({ needs }) => needs.map(({ id }) => id));
  for (const id of [...used, ...needed]) uses.set(id, (uses.get(id) ?? 0) + 1);
  const day = (id: string): number => lastDay.get(id) ?? -Infinity;
  return [...project.techniques.keys()].sort(
    (a, b) => (day(a) === day(b) ? 0 : day(b) - day(a)) || (uses.get(b) ?? 0) - (uses.get(a) ?? 0),
  );
}

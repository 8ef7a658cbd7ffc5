/** A route with these techniques, every one of them used. */
export function routeOf(
  techniques: Readonly<Record<string, string>>,
  uses = Object.keys(techniques).join(', '),
): string {
  const lines = Object.entries(techniques).map(
    ([id, rest]) => `  ${id}: { difficulty: 3, saves: 2, ${rest} }\n`,
  );
  return `game: Lanternfall\ncategory: any%\nsegments:\n  - { id: harbor, time: 1:30, techniques: [${uses}] }\ntechniques:\n${lines.join('')}`;
}

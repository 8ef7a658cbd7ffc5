/** How many characters are compared in one step: the runtime compares long slices faster. */
const chunk = 4096;

/** How many characters two texts have in common at their start and, not counting those, at their end. */
export function commonAffixes(before: string, after: string): { same: number; sameEnd: number } {
  const most = Math.min(before.length, after.length);
  let same = 0;
  while (same + chunk <= most && before.slice(same, same + chunk) === after.slice(same, same + chunk))
    same += chunk;
  while (same < most && before[same] === after[same]) same++;
  const rest = most - same;
  const part = (text: string, end: number, length: number) =>
    text.slice(text.length - end - length, text.length - end);
  let sameEnd = 0;
  while (sameEnd + chunk <= rest && part(before, sameEnd, chunk) === part(after, sameEnd, chunk))
    sameEnd += chunk;
  while (sameEnd < rest && part(before, sameEnd, 1) === part(after, sameEnd, 1)) sameEnd++;
  return { same, sameEnd };
}

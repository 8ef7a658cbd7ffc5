import type { Segment, Use } from '../../../files/documents/documents.ts';
import { formatTime } from '../../../text/time.ts';
import type { WithUri } from '../../../workspace/project.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { EntryContext } from '../../lookup/dependencyCache.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

/** Techniques that would save more than the whole segment takes. */
export const savesTooMuch: Rule = {
  code: 'saves-too-much',
  severity: 'error',
  title: 'Savings greater than the usual time of their segment.',
  page: {
    why: "Savings are counted against the usual time of the segment. More than that time cannot be saved, and the run's forecast would come out too fast.",
    way: 'Correct the saving or the time; give uses that exclude each other the same `spot`.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 132, loses: 1.4 }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1.4 }
`,
    },
  },
  // Segments of a route that this one extends, with techniques of its own.
  check({ project: { route, segments, techniques } }) {
    // The segments are all of one file.
    if (segments[0]?.uri === route.uri) return [];
    const context: EntryContext = { uri: route.uri, technique: (id) => techniques.get(id) };
    return segments.flatMap((segment) => excessiveUses(segment, context));
  },
  checkSegment(segment, context) {
    const single = excessiveUses(segment, context);
    return single.length > 0 ? single : excessiveTotal(segment, context);
  },
};

function savesOf(use: Use, context: EntryContext): number {
  const technique = context.technique(use.technique);
  return (technique && (use.saves ?? technique.saves)?.mean) ?? 0;
}

function excessiveUses(segment: WithUri<Segment>, context: EntryContext): RuleReport[] {
  return segment.uses.flatMap((use) => excessiveUse(segment, use, context) ?? []);
}

function excessiveUse(segment: WithUri<Segment>, use: Use, context: EntryContext): RuleReport | undefined {
  const saves = savesOf(use, context);
  if (saves <= segment.time) return undefined;
  const technique = context.technique(use.technique)!;
  const inTechnique = { uri: technique.uri, path: [...technique.path, 'saves'], part: 'value' } as const;
  const inUse: SourceRef = {
    uri: segment.uri,
    path: use.short ? use.path : [...use.path, use.saves ? 'saves' : 'use'],
    part: 'value',
  };
  // Both may stand in a route that this one extends: then they are reported in that route.
  const own = [inUse, inTechnique].find(({ uri }) => uri === context.uri);
  if (!own) return undefined;
  const message = `\`${use.technique}\` saves ${seconds(saves)}, but ${nameOf(segment)} takes only ${length(segment.time)} in all. Savings are counted against the usual time with no technique tried: correct one of the two.`;
  const time = { ...timeOf(segment), message: `The segment's usual time is here.` };
  const related =
    own === inUse && !use.saves ? [{ ...inTechnique, message: 'What it saves is here.' }, time] : [time];
  return { ...own, message, related };
}

/** Of the uses in one spot only the best can be meant; all others may come together. */
function excessiveTotal(segment: WithUri<Segment>, context: EntryContext): RuleReport[] {
  let sum = 0;
  const best = new Map<string, number>();
  for (const use of segment.uses) {
    const saves = savesOf(use, context);
    if (use.spot === undefined) sum += saves;
    else best.set(use.spot, Math.max(best.get(use.spot) ?? 0, saves));
  }
  for (const saves of best.values()) sum += saves;
  if (sum <= segment.time) return [];
  const message = `Together the techniques here save ${seconds(sum)}, but ${nameOf(segment)} takes only ${length(segment.time)}. Correct a time, or give those that exclude each other the same \`spot\`.`;
  return [{ ...timeOf(segment), message }];
}

function timeOf(segment: WithUri<Segment>): SourceRef {
  return { uri: segment.uri, path: [...segment.path, 'time'], part: 'value' };
}

function nameOf({ id }: Segment): string {
  return `\`${id}\``;
}

function seconds(value: number): string {
  return `${Number(value.toFixed(1))} s`;
}

/** Under a minute with its unit, since a bare number says nothing of it. */
function length(time: number): string {
  return time < 60 ? seconds(time) : formatTime(time);
}

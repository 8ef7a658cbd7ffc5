import type { Route } from '../generated/types.ts';
import type { Reading } from '../files/read.ts';
import type { Path } from '../files/tree.ts';
import { items } from '../files/value.ts';
import type { Found, Rule } from './rule.ts';

/** `16..9`: a range is written from low to high. */
export const rangeBackwards: Rule = {
  code: 'range-backwards',
  severity: 'error',
  title: 'A range that goes from high to low.',
  page: {
    why: 'A range from high to low is not read, and the technique is then worth nothing.',
    way: 'Write the smaller number first. The fix turns the two round.',
    failing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 3..1 }
`,
    },
    passing: {
      route: `segments:
  - { id: harbor, time: 1:32.4, techniques: [crate-vault] }
techniques:
  crate-vault: { difficulty: 3, saves: 3.2, loses: 1..3 }
`,
    },
  },
  check({ project: { route } }) {
    const { uri, reading } = route;
    return backwards(reading.value).map(({ path, low, high }): Found => {
      const place = { uri, path, part: 'value' } as const;
      const text = `${high}..${low}`;
      const message = `A range goes from low to high: write \`${text}\`. Until then this value is not read.`;
      return { ...place, message, fix: { ...place, title: `Change to \`${text}\``, text } };
    });
  },
};

const range = /^\s*(\d+(?:\.\d+)?)\.\.(\d+(?:\.\d+)?)\s*$/;

interface Backwards {
  readonly path: Path;
  readonly low: string;
  readonly high: string;
}

/** The ranges of a file as they are written: documents leave out those that make no sense. */
function backwards(value: Reading['value']): Backwards[] {
  const file = value as Partial<Route.RouteFile>;
  const found: Backwards[] = [];
  const look = (value: { readonly saves?: number | string; readonly loses?: number | string }, at: Path) => {
    for (const key of ['saves', 'loses'] as const) {
      const written = value[key];
      const [, low, high] = (typeof written === 'string' && range.exec(written)) || [];
      if (low !== undefined && high !== undefined && Number(high) < Number(low))
        found.push({ path: [...at, key], low, high });
    }
  };
  for (const [index, segment] of items(file.segments)) {
    for (const [at, use] of items(segment.techniques))
      if (typeof use !== 'string') look(use, ['segments', index, 'techniques', at]);
  }
  const techniques = file.techniques ?? {};
  for (const id of Object.keys(techniques)) look(techniques[id]!, ['techniques', id]);
  return found;
}

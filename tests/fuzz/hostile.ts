import { parse, stringify } from 'yaml';
import { fileKinds, type FileKind } from '../../server/src/files/fileKind.ts';
import { keysAt, schemaAt } from '../../server/src/files/schema/schema.ts';
import type { Path } from '../../server/src/files/yaml/tree.ts';
import { small, type Input } from './seeds.ts';

/** A file in which one value is hostile. */
export interface HostileInput extends Input {
  /** The value's path and what stands there. */
  readonly name: string;
}

const many = 1000;
const proto = JSON.parse('{"__proto__":{"polluted":1},"constructor":{"prototype":1}}') as object;

/** What no key of any schema asks for, or only just. */
const hostileValues: Readonly<Record<string, unknown>> = {
  nothing: null,
  yes: true,
  zero: 0,
  'minus one': -1,
  'the largest number': Number.MAX_VALUE,
  'the smallest number': Number.MIN_VALUE,
  'beyond whole numbers': 2 ** 53 + 2,
  infinity: Infinity,
  'not a number': NaN,
  'four hundred digits': '9'.repeat(400),
  'an empty text': '',
  blanks: '   ',
  'a long text': 'a'.repeat(50_000),
  'a name of every object': '__proto__',
  'another one': 'constructor',
  'a command in a link': '[x](command:workbench.action.quit)',
  'an icon': '$(trash)',
  'a picture': '![x](https://example.invalid/x.png)',
  'terminal codes': '\u001b[2J\u009b2J\u202e',
  'half of a character': '\ud83c',
  lamps: '🏮'.repeat(many),
  'a path upwards': '../../../../etc/passwd.route.yaml',
  'a time that is none': '1:99:99',
  'a day that is none': '2026-02-30',
  'the last day': '9999-12-31',
  'a range backwards': '9..1',
  'a merge key': '<<',
  'an empty list': [],
  'an empty map': {},
  'a long list': Array.from({ length: many }, (_, i) => `a-${i}`),
  'a long map': Object.fromEntries(Array.from({ length: many }, (_, i) => [`a-${i}`, i])),
  'lists in lists': Array.from({ length: 40 }).reduce<unknown[]>((inner) => [inner], []),
  'a map with keys of every object': proto,
};

/**
 * Every value that a schema speaks of, in a small file that is otherwise good, once with each hostile value. Made from
 * the schemas, so that a new key needs no new test.
 */
export function* hostileInputs(): Generator<HostileInput> {
  for (const kind of fileKinds)
    for (const path of valuePaths(kind))
      for (const [what, value] of Object.entries(hostileValues))
        yield { kind, name: `${kind} ${path.join('.')}: ${what}`, text: withValue(kind, path, value) };
}

/** The paths of all values that the schema of a kind of file speaks of; for lists and maps of named things, the first. */
export function valuePaths(kind: FileKind): Path[] {
  const found: Path[] = [];
  const walk = (path: Path): void => {
    if (path.length > 8) return;
    if (path.length > 0) found.push(path);
    const { items, additionalProperties } = schemaAt(kind, path) ?? {};
    for (const [key] of keysAt(kind, path)) walk([...path, key]);
    if (items) walk([...path, 0]);
    if (typeof additionalProperties === 'object') walk([...path, 'lamp-hop']);
  };
  walk([]);
  return found;
}

type Container = Record<string | number, unknown>;

/** The small file of a kind with a value at a path; what stands in the way of the path makes room for it. */
function withValue(kind: FileKind, path: Path, value: unknown): string {
  const file = parse(small[kind]) as Container;
  let here = file;
  path.forEach((step, depth) => {
    if (depth === path.length - 1) here[step] = value;
    else {
      const fits = typeof here[step] === 'object' && here[step] !== null;
      if (!fits) here[step] = typeof path[depth + 1] === 'number' ? [] : {};
      here = here[step] as Container;
    }
  });
  return stringify(file);
}

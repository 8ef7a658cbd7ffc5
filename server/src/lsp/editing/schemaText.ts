import type { Schema } from '../../files/schema/schema.ts';

/** The schema's text about a key, as Markdown: its meaning, its default, its form. */
export function schemaText(key: string, schema: Schema): string {
  const lines = [`**\`${key}\`**${schema.title ? ` · ${schema.title}` : ''}`];
  if (schema.description) lines.push(schema.description);
  const facts = [...limits(schema), ...defaultOf(schema)];
  if (facts.length > 0) lines.push(facts.join('  \n'));
  const examples = (schema.examples ?? []).map((example) => `\`${inline(example)}\``);
  if (examples.length > 0) lines.push(`For example ${examples.join(' or ')}`);
  return lines.join('\n\n');
}

/**
 * What a key means in a few plain words: the beginning of the schema's description, up to its first full stop or
 * semicolon; the title where there is no description.
 *
 * @example
 * schemaSummary({ description: 'Techniques to be learned before this one.' }) // 'Techniques to be learned before this one'
 */
export function schemaSummary({ title, description }: Schema): string | undefined {
  if (!description) return title;
  const ends = ['. ', '; '].map((mark) => description.indexOf(mark)).filter((at) => at > 0);
  const first = ends.length > 0 ? description.slice(0, Math.min(...ends)) : description;
  return (first.endsWith('.') ? first.slice(0, -1) : first).replaceAll('`', '');
}

function limits({ minimum, exclusiveMinimum, maximum, enum: words }: Schema): string[] {
  if (words) return [`One of ${words.map((word) => `\`${word}\``).join(', ')}`];
  const low =
    minimum !== undefined
      ? `at least ${minimum}`
      : exclusiveMinimum !== undefined
        ? `more than ${exclusiveMinimum}`
        : undefined;
  const high = maximum === undefined ? undefined : `at most ${maximum}`;
  const both = [low, high].filter((part) => part !== undefined).join(', ');
  return both === '' ? [] : [both[0]!.toUpperCase() + both.slice(1)];
}

function defaultOf({ default: value }: Schema): string[] {
  if (value === undefined) return [];
  const empty = typeof value === 'object' && value !== null && Object.keys(value).length === 0;
  return [`Left out: ${empty ? 'none' : `\`${inline(value)}\``}`];
}

/** A value as it could be written in a file, on one line. */
function inline(value: unknown): string {
  if (typeof value === 'string') return value;
  if (Array.isArray(value)) return `[${value.map(inline).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return String(value);
  const entries = Object.entries(value).map(([key, inner]) => `${key}: ${inline(inner)}`);
  return `{ ${entries.join(', ')} }`;
}

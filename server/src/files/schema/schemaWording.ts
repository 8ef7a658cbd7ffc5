import { commonSchema, type Schema } from './schema.ts';

const timePattern = commonSchema('time').pattern;
const rangePattern = commonSchema('secondsOrRange').pattern;
const momentPattern = commonSchema('moment').pattern;
const datePattern = commonSchema('date').pattern;
const idPattern = commonSchema('id').pattern;

const typeWords: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  object: 'a map (key: value)',
  array: 'a list',
  null: 'nothing',
};

/** The types a schema allows, in words. */
export function describeTypes(type: unknown): string {
  const words = (Array.isArray(type) ? type : String(type).split(',')).map(
    (word: unknown) => typeWords[String(word)] ?? String(word),
  );
  return words.join(' or ');
}

/**
 * How long a text may be at most that has the form of a time or a range, but too many digits; undefined where the text
 * has another fault.
 */
export function longestFor(schema: Schema, text: string): string | undefined {
  const { pattern } = schema;
  if (pattern === undefined || (pattern !== timePattern && pattern !== rangePattern)) return undefined;
  if (!new RegExp(pattern.replace(/\{1,\d\}/g, '+')).test(text)) return undefined;
  return pattern === timePattern ? 'a million seconds, 10,000 minutes or 100 hours' : 'a million seconds';
}

/** The problem code of a text that does not fit its pattern. */
export function patternProblemCode(schema: Schema): string {
  if (schema.pattern === timePattern) return 'unreadable-time';
  return schema.pattern === idPattern ? 'invalid-id' : 'wrong-value';
}

/** The format that a text should have, as the rest of a sentence about the text that is written. */
export function describeExpectedFormat(schema: Schema, written: string): string {
  if (schema.maxLength !== undefined && written.length > schema.maxLength)
    return `: it has ${written.length.toLocaleString('en')} characters, and at most ${schema.maxLength} are allowed`;
  if (schema.pattern === timePattern) return ' as a time: write seconds, m:ss.s or h:mm:ss.s';
  if (schema.pattern === rangePattern) return ' as seconds: write a number, or a range low..high';
  if (schema.pattern === momentPattern)
    return " as a date and time: write the runner's own clock, without a time zone";
  if (schema.pattern === datePattern) return ' as a date: write year, month and day, nothing else';
  if (schema.pattern === idPattern)
    return ': an id has lower-case letters, digits and hyphens, a letter first';
  return schema.title ? ` as ${schema.title.toLowerCase()}` : '';
}

/** A sentence with the schema's examples; empty where it has none. */
export function exampleSentence(schema: Schema): string {
  const examples = schema.examples ?? [];
  if (examples.length === 0) return '';
  return ` For example: ${examples.map((value) => (typeof value === 'string' ? value : JSON.stringify(value))).join(' or ')}.`;
}

/**
 * The parts of a log entry that may leave the person's computer: which work failed, the kind of error, and the place in
 * our own bundles. Every other part could hold the name or the content of a file, so it is left out.
 */

/** Messages of the JavaScript engine that cannot hold any word of the person's. */
const engineMessages = [
  /^Maximum call stack size exceeded$/,
  /^Cannot (read|set) properties of (undefined|null)/,
  /^Invalid (array|string) length$/,
  /^Worker terminated due to reaching memory limit/,
  /^Pending response rejected since connection got disposed$/,
];

/** The server's name for the work that failed, in front of an error, or a sentence of the client in small letters. */
const ownMessagePattern = /^(?:[A-Z][A-Za-z ]{2,40}(?=: \w*Error\b)|(?:The|A|Practice) [a-z ]{3,60}(?=[.:]))/;

const stackFramePattern = /^\s*at (?:(async )?([\w$.<> ]+) )?\(?(.*?):(\d+):(\d+)\)?$/;
const ownBundlePattern = /(?:^|[\\/])((?:client|server)(?:\.[a-z]+)?\.c?js)$/;

/** The entry without anything that could be the person's. */
export function redactLogEntry(text: string): string {
  const [first = '', ...rest] = text.split('\n');
  return [firstLine(first), ...rest.map(frameLine).filter((line) => line !== undefined)].join('\n');
}

function firstLine(line: string): string {
  const words = ownMessagePattern.exec(line)?.[0] ?? '';
  const [, kind = ''] = /\b(\w*Error)\b/.exec(line) ?? [];
  const message = kind === '' ? '' : line.slice(line.indexOf(kind) + kind.length).replace(/^[:\s]+/, '');
  const engineMessage = engineMessages
    .map((pattern) => pattern.exec(message)?.[0])
    .find((found) => found !== undefined);
  const parts = [words === kind ? '' : words, kind, engineMessage ?? (line === words + '.' ? '' : '…')];
  return parts.filter((part) => part !== '').join(': ');
}

/** A line of a stack trace that names our own code or the engine's; undefined for any other line. */
function frameLine(line: string): string | undefined {
  const [, , name = '', file = '', row = '', column = ''] = stackFramePattern.exec(line) ?? [];
  const own = file.startsWith('node:') ? file : ownBundlePattern.exec(file)?.[1];
  if (own === undefined) return undefined;
  return `    at ${name === '' ? '' : `${name} `}${own}:${row}:${column}`;
}

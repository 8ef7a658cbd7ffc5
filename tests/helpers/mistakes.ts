/** One typing mistake: `length` characters from `at` on are replaced by `text`. The number of lines stays. */
export interface TypingMistake {
  readonly at: number;
  readonly length: number;
  readonly text: string;
}

/** A kind of mistake, and every place of a text where it can be made. */
export interface MistakeKind {
  readonly name: string;
  mistakesIn(text: string): TypingMistake[];
}

/** The text with the typing mistake in it. */
export function withTypingMistake(text: string, { at, length, text: put }: TypingMistake): string {
  return text.slice(0, at) + put + text.slice(at + length);
}

/** Replaces every match outside comments by `by`, or by the text that `by` returns. */
function swap(
  name: string,
  pattern: RegExp,
  by: string | ((match: string, place: number) => string),
): MistakeKind {
  return {
    name,
    mistakesIn: (text) =>
      [...text.matchAll(pattern)]
        .filter(({ index }) => !commented(text, index))
        .map(({ 0: match, index }, place) => ({
          at: index,
          length: match.length,
          text: typeof by === 'string' ? by : by(match, place),
        })),
  };
}

function commented(text: string, index: number): boolean {
  const line = text.slice(text.lastIndexOf('\n', index - 1) + 1).split('\n', 1)[0]!;
  const before = text.slice(text.lastIndexOf('\n', index - 1) + 1, index);
  return /^\s*#/.test(line) || /\s#/.test(before);
}

/** Characters with a meaning in YAML. A further letter would only make another name. */
const stray = [...'{}[],:"\'&*!|>%@`?'];

/** The mistakes that people make while they type YAML. */
export const mistakeKinds: readonly MistakeKind[] = [
  swap('a tab for the indentation', /^ +(?=[^\s#])/gm, '\t'),
  swap('a tab after the indentation', /^ +(?=[^\s#])/gm, (spaces) => `${spaces}\t`),
  swap('one space too little', /^ (?= *[^\s#])/gm, ''),
  swap('one space too many', /^(?=[^\n#])/gm, ' '),
  swap('two spaces too many', /^(?=[^\n#])/gm, '  '),
  swap('no space after a colon', /: (?=\S)/g, ':'),
  swap('no space after a dash', /(?<=^ *)- (?=\S)/gm, '-'),
  swap('a missing colon', /(?<=[\w"]):(?= |$)/gm, ''),
  swap('a missing dash', /(?<=^ *)- (?=\S)/gm, ''),
  swap('a missing dash, the rest left in line', /(?<=^ *)- (?=\S)/gm, '  '),
  swap('a missing comma', /,(?= |$)/gm, ''),
  swap('a comma too many', /(?<=\w)(?=,)/g, ','),
  swap('a quote never closed', /(?<=: |- |\[|\{ |, )(?=[\w])/g, '"'),
  swap('a single quote never closed', /(?<=: |- |\[|\{ |, )(?=[\w])/g, "'"),
  swap('a closing quote missing', /"[^"\n]*"/g, (quoted) => quoted.slice(0, -1)),
  swap('an opening quote missing', /"[^"\n]*"/g, (quoted) => quoted.slice(1)),
  swap('a quote too many behind a value', /(?<=\w|")(?=,| \}|\]|$)/gm, '"'),
  swap('an opening bracket too many', /(?<=: |- )(?=\w)/g, '['),
  swap('an opening brace too many', /(?<=: |- )(?=\w)/g, '{ '),
  swap('a closing bracket too many', /(?<=\w)(?=$)/gm, ']'),
  swap('a closing bracket missing', /[\]}](?=[^\]}\n]*$)/gm, ''),
  swap('an opening bracket missing', /[[{] ?/g, ''),
  swap('a wrong closing bracket', /[\]}](?=[^\]}\n]*$)/gm, (bracket) => (bracket === ']' ? '}' : ']')),
  swap('a colon in a plain text', /(?<=(?:name|notes|from): [^"\n|>]*\w) (?=\w)/g, ': '),
  swap('a stray character before a line', /(?<=^ *)(?=[^\s#])/gm, (_, place) => stray[place % stray.length]!),
  swap('a stray character behind a line', /(?<=[^\s])(?=$)/gm, (_, place) => stray[place % stray.length]!),
  swap('a stray character before a value', /(?<=: |- )(?=\w)/g, (_, place) => stray[place % stray.length]!),
  swap('a word on an empty line', /^$(?=\n)/gm, 'then'),
  swap('a word on an indented line', /^$(?=\n)/gm, '    then'),
  swap('a value not yet typed', /(?<=\w:) (?![|>&*[{]).*(?=$)/gm, ''),
  swap('a line typed to its half', /(?<=^ *(?:- )?\w)[\w-]*:.*$/gm, ''),
];

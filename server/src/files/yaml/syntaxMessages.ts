/** What the parser's error codes mean to somebody who writes a route, and how to mend the text. */
const messages: Readonly<Record<string, string>> = {
  ALIAS_PROPS: 'An alias (*name) cannot have a tag or an anchor of its own. Remove it.',
  BAD_ALIAS: 'This alias or anchor has no valid name. Quote the text if it only begins with * or &.',
  BAD_DIRECTIVE:
    'A line that begins with % speaks to the parser. Remove it; quote a text that begins with %.',
  BAD_COLLECTION_TYPE: 'This tag does not fit the value behind it. Remove the tag.',
  BAD_DQ_ESCAPE: 'This is not an escape YAML knows. Write \\\\ for a backslash, or use single quotes.',
  BAD_INDENT: 'This line is indented differently from the lines it belongs to. Line it up with them.',
  BAD_PROP_ORDER: 'Tags and anchors go before the value and after the dash or colon.',
  BAD_SCALAR_START: 'A plain text cannot begin with this character. Put quotes around the text.',
  BLOCK_AS_IMPLICIT_KEY: 'A second colon on this line. Put quotes around the text, or begin a new line.',
  BLOCK_IN_FLOW: 'Inside [ ] or { } values are parted by commas, not by dashes or new lines.',
  DUPLICATE_KEY: 'This key is written twice. Remove or rename one of the two.',
  IMPOSSIBLE: 'This cannot be read as YAML.',
  KEY_OVER_1024_CHARS: 'This key is far too long; a closing quote may be missing.',
  MISSING_CHAR: 'Something is missing here: a comma, a colon, a closing quote or a closing bracket.',
  MULTILINE_IMPLICIT_KEY: 'This key runs over several lines; a colon or a closing quote may be missing.',
  MULTIPLE_ANCHORS: 'A value can have one anchor only. Remove the other.',
  MULTIPLE_TAGS: 'A value can have one tag only. Remove the other.',
  NON_STRING_KEY: 'A key must be a word, not a list, a map or an alias.',
  RESOURCE_EXHAUSTION: 'This is nested too deep to be part of a route. Remove the extra levels.',
  TAB_AS_INDENT: 'Indent with spaces, not with a tab.',
  TAG_RESOLVE_FAILED: 'This tag is not known here. Remove the tag.',
  UNEXPECTED_TOKEN: 'This does not belong here. A quote, a bracket or a line break may be missing before it.',
};

/** Our sentence for a parser's error; `fallback` where the code is not known. */
export function syntaxMessage(code: string, fallback = 'This cannot be read as YAML.'): string {
  return messages[code] ?? fallback;
}

import type { TextEdit } from '../../files/edit/textEdit.ts';
import type { Path } from '../../files/yaml/tree.ts';

/** A place in a file: the value at a path, or the key that leads to it. */
export interface SourceRef {
  readonly uri: string;
  readonly path: Path;
  readonly part: 'key' | 'value';
}

/**
 * An edit that mends a finding: it replaces the text of the place or, where `edit` is given, makes that edit in its
 * file.
 */
export interface Fix extends SourceRef {
  /** What the edit does, as a command: `Change to crate-vault`. */
  readonly title: string;
  readonly text: string;
  /** For a change of more, or less, than the text of one value: a key taken out, an entry put in. */
  readonly edit?: TextEdit;
  /** For what a person should decide: made when asked for, and not with all others at once. */
  readonly onRequest?: true;
}

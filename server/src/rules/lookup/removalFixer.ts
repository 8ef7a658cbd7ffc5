import { removePath } from '../../files/edit/removePath.ts';
import type { Reading } from '../../files/reading/reading.ts';
import type { Path } from '../../files/yaml/tree.ts';
import type { Fix, SourceRef } from './sourceRef.ts';

/** Characters that one check may read to try its edits: each is tried on the whole file. */
const maxCharacters = 400_000;
/** How many edits are tried in any case, and how many at most. */
const minAttempts = 3;
const maxAttempts = 50;

/** Works out edits that take something out of a file, as many as one check can afford. */
export class RemovalFixer {
  private readonly reading: Reading;
  private left: number;

  constructor(reading: Reading) {
    this.reading = reading;
    this.left = Math.min(
      maxAttempts,
      Math.max(minAttempts, Math.floor(maxCharacters / (reading.text.length + 1))),
    );
  }

  /**
   * @param path what is taken out, with all that stands under it
   * @param onRequest whether a person is to decide
   */
  removalFix(place: SourceRef, path: Path, title: string, onRequest = false): { fix?: Fix } {
    if (this.left-- <= 0) return {};
    const edit = removePath(this.reading, path);
    return edit ? { fix: { ...place, title, text: '', edit, ...(onRequest && { onRequest }) } } : {};
  }
}

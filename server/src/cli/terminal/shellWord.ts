import { platform } from 'node:process';
import { shellWord as shellWordOf } from '../../text/shellWord.ts';

/** A file name or another word as the person can copy it into the shell of this system. */
export function shellWord(word: string): string {
  return shellWordOf(word, platform);
}

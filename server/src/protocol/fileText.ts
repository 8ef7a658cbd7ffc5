import { textUpTo } from './shape.ts';

/** Longest text of a file that is sent, in UTF-16 units; logs of several years have less than a hundredth of it. */
const maxFileLength = 100_000_000;

/** The text of a whole file. */
export const fileTextShape = textUpTo(maxFileLength);

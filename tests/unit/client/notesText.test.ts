import { describe, expect, it } from 'vitest';
import { notesParts, type NotePart } from '../../../client/practice/notesText.ts';

const letters = (parts: readonly NotePart[]): string =>
  parts.map((part) => (typeof part === 'string' ? part : letters(part.parts))).join('');
/** The elements of notes, each as its tag and its letters. */
const elements = (parts: readonly NotePart[]): string[] =>
  parts.flatMap((part) =>
    typeof part === 'string' ? [] : [`${part.tag} ${letters(part.parts)}`, ...elements(part.parts)],
  );

describe('the notes of a technique', () => {
  it.each([
    ['Grab the *second* row.', 'Grab the second row.', ['em second']],
    ['Grab the _second_ row.', 'Grab the second row.', ['em second']],
    ['**Late**, and __low__.', 'Late, and low.', ['strong Late', 'strong low']],
    ['**Late and *low* now**', 'Late and low now', ['strong Late and low now', 'em low']],
    ['Hold `down *two*`.', 'Hold down *two*.', ['code down *two*']],
    ['# Set-up\nStand *left*.', 'Set-up\nStand left.', ['strong Set-up', 'em left']],
    ['Over *two\nlines*.', 'Over two\nlines.', ['em two\nlines']],
  ])('shows %j without its marks', (notes, text, shown) => {
    const parts = notesParts(notes);
    expect(letters(parts)).toBe(text);
    expect(elements(parts)).toEqual(shown);
  });

  it.each([
    'On frame 3*4*5 or 2 * 3 * 4.',
    'lamp_hop_low and __init',
    'A * alone, and ** too.',
    '*never closed',
    '*not over\n\nan empty line*',
    '- one\n- two\n\n\n1. three',
    '```\n*a fence*\n```'.replaceAll('*', ''),
    '#5 in the list, ####### too many',
    '<b>Jump</b> <img src=x onerror=alert(1)> [here](javascript:alert(1))',
    '',
  ])('leaves %j as it is', (notes) => {
    const parts = notesParts(notes);
    expect(letters(parts)).toBe(notes);
    expect(elements(parts)).toEqual([]);
  });

  it('takes a sign behind a backslash as that sign', () => {
    expect(notesParts('\\*not\\* \\n')).toEqual(['*not* \\n']);
  });

  it('loses no letter of what has nothing but marks', () => {
    for (const piece of ['*', '**', '*a ', '**a _b ', '`', '# ', '_*', '\\*', '*a* '])
      expect(letters(notesParts(piece.repeat(2000))).replaceAll(/[*_`#\\\s]/g, '')).toBe(
        piece.repeat(2000).replaceAll(/[*_`#\\\s]/g, ''),
      );
  });
});

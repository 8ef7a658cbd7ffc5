/** Segments and techniques of the invented game, as a spreadsheet puts them on the clipboard. */
const segments = [
  ['Segment', 'Time'],
  ['Harbor', '1:32.4'],
  ['Rope yard', '2:08.1'],
  ['Fish market', '2:49.7'],
  ['Oil cellars', '1:57.9'],
  ['Chandlers', '1:21.3'],
  ['Tide stairs', '2:31.0'],
  ['Net lofts', '1:44.6'],
  ['Bell tower', '3:02.2'],
  ['Salt mill', '1:39.8'],
  ['Lamp hall', '2:20.5'],
  ['Old mole', '1:12.7'],
  ['Lighthouse', '4:05.9'],
];
const techniques = [
  ['Technique', 'Saves', 'Loses', 'Difficulty', 'Segment'],
  ['Crate vault', '3.2', '1.4', '3', 'Harbor'],
  ['Wall kick', '4.1', '2', '4', 'Rope yard'],
  ['Stall slide', '2.5', '1', '2', 'Fish market'],
  ['Barrel hop', '5.6', '3.5', '6', 'Oil cellars'],
  ['Wick dash', '1.9', '0.8', '2', 'Chandlers'],
  ['Tide skip', '14', '9', '9', 'Tide stairs'],
  ['Net climb', '3.8', '1.2', '4', 'Net lofts'],
  ['Bell swing', '6.4', '4', '7', 'Bell tower'],
  ['Lamp hop', '2.2', '1.1', '3', 'Lamp hall'],
  ['Rail drop', '4.7', '2.6', '5', 'Lighthouse'],
];

const asPasted = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => row.join('\t')).join('\r\n');

/** 12 segments. */
export const pastedSegments = asPasted(segments);
/** 10 techniques. */
export const pastedTechniques = asPasted(techniques);
/** Their names. */
export const pastedNames = techniques.slice(1).map(([name]) => name!);

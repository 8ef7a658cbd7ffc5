import { describe, expect, it } from 'vitest';
import { readLogTable } from '../../../server/src/logging/logTable.ts';
import { logVocabularyOf } from '../../../server/src/logging/logVocabulary.ts';
import { harborRoute, openEditor, uriOf } from '../lsp/editor.ts';

/** The columns that the problems of a table name; `undefined` for one of a whole row. */
async function columnsOf(text: string): Promise<(string | undefined)[]> {
  const { services } = await openEditor({ 'a.route.yaml': harborRoute });
  const words = logVocabularyOf(services.workspace.projectOf(uriOf('a.route.yaml'))!);
  const table = readLogTable(text, { columns: new Map(), cycles: {} }, words);
  if ('problem' in table) throw new Error(table.problem);
  services.checks.dispose();
  expect(table.entries).toEqual([]);
  return table.problems.map(({ column }) => column);
}

describe('the column of a cell that cannot be read', () => {
  const heading = 'Date,Start time,Technique,Minutes,Landed,Tries,Notes\n';
  it.each([
    ['Date', '2026-13-41,19:30,lamp-hop,20,7,30,'],
    ['Start time', '2026-09-01,1930,lamp-hop,20,7,30,'],
    ['Technique', '2026-09-01,19:30,no-such,20,7,30,'],
    ['Minutes', '2026-09-01,19:30,lamp-hop,long,7,30,'],
    ['Landed', '2026-09-01,19:30,lamp-hop,20,many,30,'],
    ['Tries', '2026-09-01,19:30,lamp-hop,20,7,many,'],
    [undefined, '2026-09-01,19:30,lamp-hop,20,31,30,'],
    // Another cell with the same text is not taken for it.
    ['Minutes', '2026-09-01,19:30,lamp-hop,long,7,30,long'],
    ['Technique', '2026-09-01,19:30,no-such,20,7,30,no-such'],
  ])('is %s in a row of practice: %s', async (column, row) => {
    expect(await columnsOf(heading + row)).toEqual([column]);
  });

  it.each([
    ['Seen', 'Date,Technique,Minutes,Seen\n2026-09-01,lamp-hop,20,few\n'],
    ['Tape', 'Date,Technique,Minutes,Tape\n2026-09-01,lamp-hop,20,lmx\n'],
    ['Segment', 'Date,Technique,Segment,Minutes,Tried\n2026-09-01,,no-such,20,lamp-hop=1/2\n'],
    ['Tried', 'Date,Technique,Segment,Minutes,Tried\n2026-09-01,,harbor,20,lamp-hop=1/2 no-such=1/2\n'],
    ['Lamp clip', 'Date,crate-vault,Lamp clip\n2026-09-01,1/2,few\n'],
    ['Total', 'Date,Total,Tried\n2026-09-01,soon,lamp-hop=1/2\n'],
    ['harbor', 'Date,rope-yard,harbor\n2026-09-01,2:08,soon\n'],
    ['Tried', 'Date,Total,Tried\n2026-09-01,3:40,lamp-hop=1/2 no-such=1/2\n'],
    ['crate-vault', 'Date,Total,Tried,crate-vault\n2026-09-01,3:40,lamp-hop=1/2,5/3\n'],
    ['Ended', 'Date,harbor,Ended\n2026-09-01,1:30,harbor:bored\n'],
    ['Finished', 'Date,Runs,Finished\n2026-09-01,12,none\n'],
    ['Runs', 'Date,Runs,Finished\n2026-09-01,many,2\n'],
    ['Date', 'Date,Runs,Finished\n2026-09-01T19:30,12,2\n'],
    [undefined, 'Date,Runs,Finished\n2026-09-01,2,12\n'],
  ])('is %s in the table %j', async (column, table) => {
    expect(await columnsOf(table)).toEqual([column]);
  });
});

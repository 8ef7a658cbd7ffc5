/** Tables of segments and techniques, as the parts of a route that their rows say. */
import { describeInvalidId, idFrom, isId, ordinals, useName } from '../files/schema/ids.ts';
import { numberOrText } from '../tables/cellNumbers.ts';
import { nameKey } from '../text/nameKey.ts';
import { idCalled, idsByName, type IdsByName, idsCalled } from '../text/namedIds.ts';
import {
  type CellValue,
  chanceCell,
  difficultyCell,
  listCell,
  secondsCell,
  secondsOrRangeCell,
  timeCell,
  yesOrNoCell,
} from './cellValues.ts';
import type { RouteMeaning } from './routeColumns.ts';
import type {
  KnownPart,
  KnownRoute,
  RouteParts,
  TableSegment,
  TableTechnique,
  TableUse,
} from './routeParts.ts';
import { isNear, unknownName } from './rowNames.ts';
import { readRouteRows, type RouteRow, type SourceTable, type TableFault } from './routeRows.ts';

const emptyRoute: KnownRoute = { segments: [], techniques: [], uses: [] };

/**
 * Reads tables of segments and of techniques together: names in one may stand for rows of another. Either every cell
 * that is not empty is read, or there are faults with their places. Never throws.
 *
 * @param columns by heading: what the user says that its column holds
 */
export function readRouteTables(
  tables: readonly SourceTable[],
  columns: ReadonlyMap<string, string>,
  known: KnownRoute = emptyRoute,
): RouteParts | { readonly faults: readonly TableFault[] } {
  const reader = new RouteTableReader(known);
  const unread: string[] = [];
  const headings = new Set<string>();
  for (const table of tables) {
    const read = readRouteRows(table, columns);
    reader.faults.push(...read.faults);
    if (!('rows' in read)) {
      reader.lacksTable = true;
      continue;
    }
    unread.push(...read.unread);
    for (const heading of read.headings) headings.add(nameKey(heading));
    if (read.kind === 'segments') reader.segmentRows.push(...read.rows);
    else reader.techniqueRows.push(...read.rows);
    if (read.rows.length === 0)
      reader.faults.push({ table: table.name, message: 'It has headings and no rows below them.' });
  }
  const missing = [...columns.keys()].find((heading) => !headings.has(nameKey(heading)));
  if (missing !== undefined && reader.faults.length === 0)
    reader.faults.push({ table: tables[0]?.name ?? '', message: `No table has a column ${missing}.` });
  const parts = reader.read();
  return reader.faults.length > 0 ? { faults: reader.faults } : { ...parts, unread };
}

/** A row with the id that its segment or technique gets. */
interface NamedRow {
  readonly row: RouteRow;
  readonly id: string;
  readonly name: string | undefined;
}

/** Reads the rows of all tables, and notes what is wrong. */
class RouteTableReader {
  readonly faults: TableFault[] = [];
  /** Whether a table could not be read at all: names that are not found may be in it. */
  lacksTable = false;
  readonly segmentRows: RouteRow[] = [];
  readonly techniqueRows: RouteRow[] = [];
  readonly #known: KnownRoute;
  /** Names of rows that the route has already. */
  readonly #skipped = new Set<string>();
  /** Uses so far, as logs name them. */
  readonly #uses: Set<string>;

  constructor(known: KnownRoute) {
    this.#known = known;
    this.#uses = new Set(known.uses);
  }

  read(): Omit<RouteParts, 'unread'> {
    const segments = this.#named(this.segmentRows, 'segment', this.#known.segments, false);
    const all = this.#named(this.techniqueRows, 'technique', this.#known.techniques, true);
    const firsts = new Map<string, NamedRow>();
    for (const row of all) if (!firsts.has(row.id)) firsts.set(row.id, row);
    const techniqueIds = idsByName([...this.#known.techniques, ...firsts.values()]);
    const segmentIds = idsByName([...this.#known.segments, ...segments]);
    const techniques = [...firsts.values()].map((row) => this.#technique(row, techniqueIds));
    const uses = new Map<string, TableUse[]>(
      [...this.#known.segments, ...segments].map(({ id }) => [id, []]),
    );
    const before = new Map(this.#known.segments.map(({ id, techniques: used }) => [id, used]));
    for (const { row, id } of segments)
      for (const technique of this.#names(row, 'techniques', 'technique', techniqueIds))
        addUse(uses.get(id)!, { technique });
    const own = new Map(techniques.map((technique) => [technique.id, technique]));
    for (const { row, id } of all) {
      const isFirst = firsts.get(id)!.row === row;
      const differs = isFirst ? {} : this.#differences(row, own.get(id)!);
      const named = this.#names(row, 'segments', 'segment', segmentIds);
      if (!isFirst && named.length === 0 && !row.cells.has('segments'))
        this.#fault(
          row,
          'name',
          `${row.cells.get('name')?.text ?? id} stands in line ${firsts.get(id)!.row.line} already. A technique has several rows only where each names another segment.`,
        );
      // A segment may use a technique that nothing has defined yet: it keeps that use as it is.
      for (const segment of named)
        if (before.get(segment)?.includes(id) !== true)
          addUse(uses.get(segment)!, { technique: id, ...differs });
    }
    const usesOfKnown = this.#known.segments.flatMap(({ id }) => {
      const added = uses.get(id)!;
      return added.length === 0 ? [] : [{ segment: id, uses: added.map((use) => this.#withId(use)) }];
    });
    return {
      segments: segments.map((row) =>
        this.#segment(
          row,
          uses.get(row.id)!.map((use) => this.#withId(use)),
        ),
      ),
      techniques,
      usesOfKnown,
      skipped: [...this.#skipped],
    };
  }

  /**
   * Rows with their ids, in the order of the table; rows that the route has already by id or name are left out. Names
   * that stand twice share an id where `shared`.
   */
  #named(
    rows: readonly RouteRow[],
    what: 'segment' | 'technique',
    known: readonly KnownPart[],
    shared: boolean,
  ): NamedRow[] {
    const taken = new Set(known.map(({ id }) => id));
    const knownIds = new Map(known.map((part) => [part.id, part]));
    const knownNames = new Map([
      ...(shared ? known.map((part): [string, KnownPart] => [nameKey(part.id), part]) : []),
      ...known.map((part): [string, KnownPart] => [nameKey(part.name ?? part.id), part]),
    ]);
    // An id that is written stays; ids that are made go around it.
    const written = new Set(rows.flatMap(({ cells }) => cells.get('id')?.text ?? []));
    const byName = new Map<string, string>();
    return rows.flatMap((row): NamedRow[] => {
      const name = row.cells.get('name')?.text.replaceAll(/\s{1,99}/g, ' ');
      const own = row.cells.get('id')?.text;
      const key = nameKey(name ?? own ?? '');
      if (key === '') {
        this.#fault(row, undefined, `This row names no ${what}.`);
        return [];
      }
      if (own !== undefined && !isId(own)) {
        this.#fault(row, 'id', describeInvalidId(own).replaceAll('`', ''));
        return [];
      }
      const before = knownIds.get(own ?? '') ?? knownNames.get(key);
      if (before) {
        this.#skipped.add(before.name ?? before.id);
        return [];
      }
      const again = shared ? byName.get(key) : undefined;
      if (again !== undefined && (own === undefined || own === again)) return [{ row, id: again, name }];
      if (own !== undefined && taken.has(own)) {
        this.#fault(row, 'id', `The id ${own} is in use already.`);
        return [];
      }
      const id = own ?? idFrom(name!, what, (one) => taken.has(one) || written.has(one));
      taken.add(id);
      byName.set(key, id);
      return [{ row, id, name }];
    });
  }

  /** The ids of the parts that a cell names. */
  #names(row: RouteRow, meaning: RouteMeaning, what: 'segment' | 'technique', ids: IdsByName): string[] {
    const cell = row.cells.get(meaning);
    if (!cell) return [];
    const written = idsCalled(cell.text, ids).length > 0 ? [cell.text] : listCell(cell.text);
    return [...new Set(written)].flatMap((name) => {
      const id = idCalled(name, ids);
      if (id !== undefined) return [id];
      if (this.lacksTable) return [];
      this.#fault(
        row,
        meaning,
        unknownName(what, name, ids),
        isNear(name, ids) ? [] : [`${cell.heading}=ignored`],
      );
      return [];
    });
  }

  /** The use with an id where the technique is used above it already. */
  #withId({ technique, ...differs }: TableUse): TableUse {
    const names = [undefined, ...ordinals, ...Array.from({ length: 1000 }, (_, n) => `use-${n + 11}`)];
    const id = names.find((one) => !this.#uses.has(useName(technique, one)));
    this.#uses.add(useName(technique, id));
    return { technique, ...(id !== undefined && { id }), ...differs };
  }

  /** What a further row of a technique says of its use; what can only hold for all uses must be as in the first row. */
  #differences(row: RouteRow, first: TableTechnique): Pick<TableUse, 'saves' | 'loses'> {
    const saves = this.#value(row, 'saves', secondsOrRangeCell);
    const loses = this.#value(row, 'loses', secondsOrRangeCell);
    const difficulty = this.#value(row, 'difficulty', difficultyCell);
    const endsRun = this.#value(row, 'ends_run', yesOrNoCell);
    const other = [
      ['difficulty', difficulty, first.difficulty],
      ['ends_run', endsRun, first.endsRun],
      ['attempt', this.#value(row, 'attempt', secondsCell), first.practice.attempt],
      ['reload', this.#value(row, 'reload', secondsCell), first.practice.reload],
      ['from', row.cells.get('from')?.text, first.practice.from],
      ['notes', row.cells.get('notes')?.text, first.notes],
    ] as const;
    for (const [meaning, here, there] of other)
      if (here !== undefined && here !== there)
        this.#fault(
          row,
          meaning,
          `An earlier row of this technique has ${there === undefined ? 'nothing' : String(there)} here, and this one ${String(here)}. Only what it saves and loses may differ from segment to segment.`,
        );
    for (const [meaning, cell] of row.cells)
      if (meaning === 'needs' || meaning === 'links' || meaning.startsWith('x-'))
        this.#fault(row, meaning, `Write ${cell.text} into the first row of this technique.`);
    return {
      ...(saves !== undefined && saves !== first.saves && { saves }),
      ...(loses !== undefined && loses !== first.loses && { loses }),
    };
  }

  #segment({ row, id, name }: NamedRow, uses: readonly TableUse[]): TableSegment {
    return {
      id,
      name,
      time: this.#required(row, 'time', timeCell, 'its usual time, such as 1:32.4') ?? '0',
      spread: this.#value(row, 'spread', secondsCell),
      survive: this.#value(row, 'survive', (text, percent) => chanceCell(text, percent)),
      uses,
      ...this.#rest(row),
    };
  }

  #technique({ row, id, name }: NamedRow, ids: IdsByName): TableTechnique {
    const attempt = this.#value(row, 'attempt', secondsCell);
    const reload = this.#value(row, 'reload', secondsCell);
    const from = row.cells.get('from')?.text;
    if (attempt !== undefined && attempt < 0.01)
      this.#fault(row, 'attempt', 'An attempt takes at least 0.01 seconds.');
    return {
      id,
      name,
      difficulty:
        this.#required(
          row,
          'difficulty',
          difficultyCell,
          'its difficulty, from 1 (easy) to 10 (very hard)',
        ) ?? 1,
      saves: this.#required(row, 'saves', secondsOrRangeCell, 'the seconds that it saves, or a range') ?? 0,
      loses: this.#value(row, 'loses', secondsOrRangeCell),
      endsRun: this.#value(row, 'ends_run', yesOrNoCell),
      needs: this.#names(row, 'needs', 'technique', ids),
      practice: {
        ...(attempt !== undefined && { attempt }),
        ...(reload !== undefined && { reload }),
        ...(from !== undefined && { from }),
      },
      ...this.#rest(row),
    };
  }

  #rest({ cells }: RouteRow): Pick<TableSegment, 'notes' | 'links' | 'own'> {
    return {
      notes: cells.get('notes')?.text,
      links: (cells.get('links')?.text ?? '').split(/[\s;|]/).filter((part) => part !== ''),
      own: Object.fromEntries(
        [...cells].flatMap(([meaning, { text }]) =>
          meaning.startsWith('x-') ? [[meaning, numberOrText(text)]] : [],
        ),
      ),
    };
  }

  #value<T>(
    row: RouteRow,
    meaning: RouteMeaning,
    read: (text: string, percent: boolean) => CellValue<T>,
  ): T | undefined {
    const cell = row.cells.get(meaning);
    if (!cell) return undefined;
    const answer = read(cell.text, cell.percent);
    if ('value' in answer) return answer.value;
    this.#fault(row, meaning, answer.problem);
    return undefined;
  }

  #required<T>(
    row: RouteRow,
    meaning: RouteMeaning,
    read: (text: string) => CellValue<T>,
    what: string,
  ): T | undefined {
    if (!row.cells.has(meaning)) this.#fault(row, meaning, `This row does not say ${what}.`);
    return this.#value(row, meaning, read);
  }

  /** @param ways what the user may say of columns to mend it, as `HEADING=MEANING` */
  #fault(
    { table, line, cells }: RouteRow,
    meaning: RouteMeaning | undefined,
    message: string,
    ways: readonly string[] = [],
  ): void {
    const column = meaning === undefined ? undefined : (cells.get(meaning)?.heading ?? undefined);
    this.faults.push({
      table,
      line,
      ...(column !== undefined && { column }),
      message,
      ...(ways.length > 0 && { ways }),
    });
  }
}

/** Adds a use to those of a segment; what is said of one that it has already is added to that one. */
function addUse(uses: TableUse[], use: TableUse): void {
  const at = uses.findIndex(({ technique }) => technique === use.technique);
  if (at < 0) uses.push(use);
  else uses[at] = { ...uses[at]!, ...use };
}

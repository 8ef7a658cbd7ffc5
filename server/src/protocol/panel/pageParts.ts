import { listOf, oneOf, orNull, record, textShape, unionOf, type ShapeType } from '../shape.ts';

const listItem = record({ name: orNull(textShape), text: textShape });

/** A part of a report in words and tables; the panel sets it in its own type. */
export const pagePartShape = unionOf(
  record({ kind: oneOf('heading'), text: textShape }),
  record({ kind: oneOf('prose'), text: textShape }),
  record({ kind: oneOf('list'), items: listOf(listItem) }),
  record({ kind: oneOf('facts'), rows: listOf(record({ label: textShape, text: textShape })) }),
  record({
    kind: oneOf('table'),
    /** The heading above the table, by which it is announced. */
    name: textShape,
    columns: listOf(record({ title: textShape, align: oneOf('left', 'right') })),
    rows: listOf(listOf(textShape)),
  }),
);
export type PanelPart = ShapeType<typeof pagePartShape>;

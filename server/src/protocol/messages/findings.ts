import { notification, request } from './message.ts';
import { numberShape, orNull, record, textShape, type ShapeType } from '../shape.ts';

const statusParams = record({ uri: textShape });
export type StatusParams = ShapeType<typeof statusParams>;

const statusResult = record({
  /** Game and category; null where the file belongs to no route. */
  route: orNull(textShape),
  /** Errors and warnings in all files of the project. */
  problems: numberShape,
});
export type StatusResult = ShapeType<typeof statusResult>;

/** Client → server: what the status item shows for a file. */
export const statusRequest = request('routewright/status', { params: statusParams, result: statusResult });

/** For messages without content. */
const noParams = record({});

/** Server → client: findings were published; views that show counts should ask again. */
export const findingsChangedNotification = notification('routewright/findingsChanged', noParams);

const workingOnParams = record({
  /** The file that the server works on until the next of these messages; null where it works on none. */
  uri: orNull(textShape),
});
/** Server → client: the server begins to work on a file; until it is done it may hang. */
export const workingOnNotification = notification('routewright/workingOn', workingOnParams);

/** Server → client: the files were read again; a panel that shows them should ask again. */
export const filesReadNotification = notification('routewright/filesRead', noParams);

/**
 * Checks of messages that cross a border between two programs. A shape says what a value must be; the type is read
 * off the shape, so that what is checked and what is promised cannot differ.
 */
export interface Shape<T> {
  /** Whether a value is what the shape says. Keys that the shape does not know are allowed. */
  fits(value: unknown): value is T;
  /** The first place where a value is not what the shape says; undefined where it fits. */
  misfit(value: unknown): Misfit | undefined;
}

/** A place in a value, and what was expected there. */
export interface Misfit {
  /** Such as `ended.why` or `landed[3]`; empty for the value itself. */
  readonly path: string;
  /** Such as `a text`. */
  readonly expected: string;
}

/** A field that can be absent. */
export interface OptionalShape<T> extends Shape<T> {
  readonly optional: true;
}

/** The type that a shape describes. */
export type ShapeType<S> = S extends Shape<infer T> ? T : never;

type FindMisfit = (value: unknown) => Misfit | undefined;

function shapeOf<T>(misfit: FindMisfit): Shape<T> {
  return { misfit, fits: (value): value is T => misfit(value) === undefined };
}

function shapeFrom<T>(expected: string, fits: (value: unknown) => boolean): Shape<T> {
  const misfit: Misfit = { path: '', expected };
  return shapeOf((value) => (fits(value) ? undefined : misfit));
}

/**
 * The misfit of a part, with its path from the whole value: `key` is where the whole holds the part, such as `ended` or
 * `[3]`.
 */
function misfitOfWhole(key: string, { path, expected }: Misfit): Misfit {
  const separator = path === '' || path.startsWith('[') ? '' : '.';
  return { path: `${key}${separator}${path}`, expected };
}

/** Longest text that is accepted, in UTF-16 units: much longer than any name or sentence. */
const maxTextLength = 20_000;
/** Longest list that is accepted. */
const maxListLength = 20_000;

export const textShape: Shape<string> = textUpTo(maxTextLength);
export const numberShape: Shape<number> = shapeFrom('a finite number', (v) => Number.isFinite(v));
export const booleanShape: Shape<boolean> = shapeFrom('true or false', (v) => typeof v === 'boolean');

/** A text that may be long, such as a drawing. */
export function textUpTo(most: number): Shape<string> {
  return shapeFrom(`a text of at most ${most} characters`, (v) => typeof v === 'string' && v.length <= most);
}

export function oneOf<const T extends string | number>(...words: readonly T[]): Shape<T> {
  return shapeFrom(`one of ${words.join(', ')}`, (v) => words.some((word) => word === v));
}

export function orNull<T>(inner: Shape<T>): Shape<T | null> {
  return shapeOf((v) => (v === null ? undefined : inner.misfit(v)));
}

/** In a record: a field that can be absent or undefined. */
export function optional<T>(inner: Shape<T>): OptionalShape<T> {
  return { ...shapeOf<T>((v) => (v === undefined ? undefined : inner.misfit(v))), optional: true };
}

/**
 * A value that is not checked; its type is declared elsewhere. For data that only our own program on the other side
 * makes, and for data that the receiver checks itself.
 */
export function opaque<T>(): Shape<T> {
  return shapeFrom('anything', () => true);
}

export function listOf<T>(inner: Shape<T>): Shape<readonly T[]> {
  const noList: Misfit = { path: '', expected: `a list of at most ${maxListLength}` };
  return shapeOf((v) => {
    if (!Array.isArray(v) || v.length > maxListLength) return noList;
    for (let index = 0; index < v.length; index++) {
      const misfit = inner.misfit(v[index]);
      if (misfit) return misfitOfWhole(`[${index}]`, misfit);
    }
    return undefined;
  });
}

/** A list of exactly two values. */
export function pairOf<T>(inner: Shape<T>): Shape<readonly [T, T]> {
  const list = listOf(inner);
  return shapeOf((v) =>
    Array.isArray(v) && v.length === 2 ? list.misfit(v) : { path: '', expected: 'a list of two' },
  );
}

type Fields = Readonly<Record<string, Shape<unknown>>>;
type OptionalKey<F extends Fields> = {
  [K in keyof F]: F[K] extends OptionalShape<unknown> ? K : never;
}[keyof F];
type Flattened<T> = { readonly [K in keyof T]: T[K] };
/** The type of a record with these fields. */
export type RecordType<F extends Fields> = [OptionalKey<F>] extends [never]
  ? { readonly [K in keyof F]: ShapeType<F[K]> }
  : Flattened<
      { readonly [K in Exclude<keyof F, OptionalKey<F>>]: ShapeType<F[K]> } & {
        readonly [K in OptionalKey<F>]?: ShapeType<F[K]>;
      }
    >;

export function record<F extends Fields>(fields: F): Shape<RecordType<F>> {
  const checks = Object.entries(fields);
  const noRecord: Misfit = { path: '', expected: 'a record' };
  return shapeOf((v) => {
    if (typeof v !== 'object' || v === null) return noRecord;
    for (const [key, field] of checks) {
      // An inherited property does not count: it did not come with the message.
      const misfit = field.misfit(Object.hasOwn(v, key) ? (v as Record<string, unknown>)[key] : undefined);
      if (misfit) return misfitOfWhole(key, misfit);
    }
    return undefined;
  });
}

/**
 * One of several shapes. Where none fits, the misfit is that of the shape that a record's `type` names, else that of
 * the first shape.
 */
export function unionOf<S extends readonly Shape<unknown>[]>(...shapes: S): Shape<ShapeType<S[number]>> {
  return shapeOf((v) => {
    let first: Misfit | undefined;
    let named: Misfit | undefined;
    for (const shape of shapes) {
      const misfit = shape.misfit(v);
      if (!misfit) return undefined;
      first ??= misfit;
      if (misfit.path !== 'type') named ??= misfit;
    }
    return named ?? first;
  });
}

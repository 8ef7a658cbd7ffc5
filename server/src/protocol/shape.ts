/**
 * Checks of messages that cross a border between two programs. A shape says what a value must be; the type is read
 * off the shape, so that what is checked and what is promised cannot drift apart.
 */
export interface Shape<T> {
  /** Whether a value is what the shape says. Keys that the shape does not know are allowed. */
  fits(value: unknown): value is T;
}

/** The type that a shape vouches for. */
export type ShapeType<S> = S extends Shape<infer T> ? T : never;

function shapeFrom<T>(fits: (value: unknown) => boolean): Shape<T> {
  return { fits: (value): value is T => fits(value) };
}

/** Longest text that is taken, in UTF-16 units: far beyond any name or sentence. */
const maxTextLength = 20_000;
/** Longest list that is taken. */
const maxListLength = 20_000;

export const textShape: Shape<string> = shapeFrom((v) => typeof v === 'string' && v.length <= maxTextLength);
export const numberShape: Shape<number> = shapeFrom((v) => typeof v === 'number' && Number.isFinite(v));
export const booleanShape: Shape<boolean> = shapeFrom((v) => typeof v === 'boolean');

/** A text that may be long, such as a drawing. */
export function textUpTo(most: number): Shape<string> {
  return shapeFrom((v) => typeof v === 'string' && v.length <= most);
}

export function oneOf<const T extends string | number>(...words: readonly T[]): Shape<T> {
  return shapeFrom((v) => words.some((word) => word === v));
}

export function orNull<T>(inner: Shape<T>): Shape<T | null> {
  return shapeFrom((v) => v === null || inner.fits(v));
}

export function listOf<T>(inner: Shape<T>): Shape<readonly T[]> {
  return shapeFrom(
    (v) => Array.isArray(v) && v.length <= maxListLength && v.every((item) => inner.fits(item)),
  );
}

type Fields = Readonly<Record<string, Shape<unknown>>>;

export function record<F extends Fields>(fields: F): Shape<{ readonly [K in keyof F]: ShapeType<F[K]> }> {
  const checks = Object.entries(fields);
  return shapeFrom(
    (v) =>
      typeof v === 'object' &&
      v !== null &&
      checks.every(
        ([key, field]) => Object.hasOwn(v, key) && field.fits((v as Record<string, unknown>)[key]),
      ),
  );
}

/** One of several shapes. */
export function unionOf<S extends readonly Shape<unknown>[]>(...shapes: S): Shape<ShapeType<S[number]>> {
  return shapeFrom((v) => shapes.some((one) => one.fits(v)));
}

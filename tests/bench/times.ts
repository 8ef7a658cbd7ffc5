/** Seconds as `1:32.4` or `2:01:32.4`. */
export function timeOf(seconds: number): string {
  const tenths = Math.round(seconds * 10);
  const rest = `${String(Math.floor(tenths / 10) % 60).padStart(2, '0')}.${tenths % 10}`;
  const minutes = Math.floor(tenths / 600);
  if (minutes < 60) return `${minutes}:${rest}`;
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}:${rest}`;
}

/** Rounded to a tenth. */
export const tenth = (value: number): number => Math.round(value * 10) / 10;

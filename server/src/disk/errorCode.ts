/** The system's name of an error, such as `ENOSPC`; `''` where it is none of the system's. */
export function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : '';
}

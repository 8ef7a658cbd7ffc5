/** The last part of a URI as a runner reads it, such as `lanternfall.week.yaml`. */
export function fileName(uri: string): string {
  const last = uri.slice(uri.lastIndexOf('/') + 1);
  try {
    return decodeURIComponent(last);
  } catch {
    return last;
  }
}

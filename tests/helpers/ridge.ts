/**
 * Ridge regression (Hoerl & Kennard 1970): the weights that predict y from the features with least squares, when the sum of squares of
 * the weights times `penalty` is added.
 *
 * @returns predicts y from features
 */
export function fitRidge(
  features: readonly (readonly number[])[],
  y: readonly number[],
  penalty: number,
): (of: readonly number[]) => number {
  const size = features[0]!.length;
  // The normal equations (X'X + penalty I) w = X'y, each row with its right side at the end.
  const rows = Array.from({ length: size }, (_, i) => {
    const row = new Float64Array(size + 1);
    features.forEach((x, n) => {
      for (let j = 0; j < size; j++) row[j]! += x[i]! * x[j]!;
      row[size]! += x[i]! * y[n]!;
    });
    row[i]! += penalty;
    return row;
  });
  for (let i = 0; i < size; i++) {
    const pivot = rows
      .slice(i)
      .reduce((best, row, at) => (Math.abs(row[i]!) > Math.abs(rows[best]![i]!) ? i + at : best), i);
    [rows[i], rows[pivot]] = [rows[pivot]!, rows[i]!];
    for (let r = 0; r < size; r++) {
      if (r === i) continue;
      const factor = rows[r]![i]! / rows[i]![i]!;
      for (let c = i; c <= size; c++) rows[r]![c]! -= factor * rows[i]![c]!;
    }
  }
  const weights = rows.map((row, i) => row[size]! / row[i]!);
  return (of) => of.reduce((sum, value, i) => sum + value * weights[i]!, 0);
}

/** The signs of our own sentences, and what stands for each in ASCII. */
const signs: ReadonlyMap<string, string> = new Map(
  Object.entries({
    ...{
      '·': '.',
      '→': '->',
      '−': '-',
      '–': '-',
      '—': '-',
      '…': '...',
      '×': 'x',
      '≈': '~',
      '└': '`-',
      '│': '|',
    },
    ...{ '“': '"', '”': '"', '‘': "'", '’': "'", '≥': '>=', '≤': '<=', '±': '+-', '√': 'sqrt ', '²': '^2' },
    ...{ κ: 'kappa', ρ: 'rho', Σ: 'sum ' },
  }),
);

/**
 * A text with our own signs in ASCII. Other letters come from files, and stay: it would be lost what they are.
 *
 * @example
 * asciiText('36 → 43 %') // '36 -> 43 %'
 */
export function asciiText(text: string): string {
  return Array.from(text, (sign) => signs.get(sign) ?? sign).join('');
}

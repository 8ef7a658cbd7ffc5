/** Code in Markdown pages. */

/** The fenced blocks of one language in a page, in their order, without the fences. */
export function codeBlocks(page: string, language: string): string[] {
  const fenced = /^```(\w+)\n([^]*?)^```$/gm;
  return [...page.matchAll(fenced)].filter(([, name]) => name === language).map(([, , code]) => code!);
}

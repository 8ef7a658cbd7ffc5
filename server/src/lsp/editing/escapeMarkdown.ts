/** A person's text inside Markdown: what would be read as markup, or break a table, is shown as it is. */
export function escapeMarkdown(text: string): string {
  return text.replace(/[\\`*_{}[\]<>()#+!|~-]/g, '\\$&').replace(/\s+/g, ' ');
}

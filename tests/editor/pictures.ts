/** What the scripts that take pictures have in common. */

/** A theme of each kind. */
export const pictureThemes = {
  light: 'Default Light Modern',
  dark: 'Default Dark Modern',
  'high-contrast': 'Default High Contrast',
  'high-contrast-light': 'Default High Contrast Light',
} as const;
export type PictureTheme = keyof typeof pictureThemes;

/** The themes that are named on the command line; all where none is. */
export function themesAsked(argv: readonly string[]): PictureTheme[] {
  const all = Object.keys(pictureThemes) as PictureTheme[];
  const named = all.filter((theme) => argv.includes(theme));
  return named.length > 0 ? named : all;
}

/** Switches off what would change from one picture to the next, or distract from the pages. */
export const pictureSettings = {
  'editor.cursorBlinking': 'solid',
  'editor.minimap.enabled': false,
  'workbench.hover.delay': 60_000,
  'window.title': '${activeEditorShort}',
};

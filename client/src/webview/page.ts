/** A page of the extension: what is shown in a webview. */
export interface Page {
  /** Names its script and its style among the bundles: `panel` for `panel.js` and `panel.css`. */
  readonly name: string;
  readonly title: string;
  /** What the body holds before the script runs, as HTML. Nothing of a file goes into it. */
  readonly body: string;
}

/** What differs from one webview that shows a page to the next. */
export interface PageAddresses {
  /** Addresses of the script and the style. */
  readonly script: string;
  readonly style: string;
  /** Where styles may come from, as a source of a content security policy. */
  readonly source: string;
  /** A secret for this page alone: only the script and the style that carry it are loaded. */
  readonly nonce: string;
}

/**
 * The whole page as HTML. Nothing may be loaded but its own script and style, and no style or handler in the page
 * itself is obeyed.
 */
export function pageHtml({ title, body }: Page, { script, style, source, nonce }: PageAddresses): string {
  const policy = [
    `default-src 'none'`,
    `script-src 'nonce-${nonce}'`,
    `style-src ${source} 'nonce-${nonce}'`,
    `base-uri 'none'`,
    `form-action 'none'`,
  ].join('; ');
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="stylesheet" nonce="${nonce}" href="${style}">
</head>
<body>
${body}
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>`;
}

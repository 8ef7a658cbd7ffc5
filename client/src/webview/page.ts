/** A page of the extension: what is shown in a webview. */
export interface Page {
  /** File name of its script and its style in the bundles: `panel` for `panel.js` and `panel.css`. */
  readonly name: string;
  readonly title: string;
  /** The body before the script runs, as HTML. No text of a file goes into it. */
  readonly body: string;
}

/** The values that differ between two webviews that show the same page. */
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
 * The whole page as HTML. Its policy lets it load only its own script and style, and blocks inline styles and handlers.
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

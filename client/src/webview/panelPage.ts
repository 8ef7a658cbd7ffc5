/** Where the page of the panel finds what it may load. */
export interface PageParts {
  /** Addresses of the script and the style. */
  readonly script: string;
  readonly style: string;
  /** Where styles may come from, as a source of a content security policy. */
  readonly source: string;
  /** Said once: what carries it is allowed. */
  readonly nonce: string;
}

/**
 * The page of the panel: nothing may be loaded but its own script and style, and no style or handler in the page
 * itself is obeyed.
 */
export function panelPage({ script, style, source, nonce }: PageParts): string {
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
<title>Week and practice</title>
<link rel="stylesheet" nonce="${nonce}" href="${style}">
</head>
<body>
<main id="panel"></main>
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>`;
}

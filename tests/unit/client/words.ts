import ts from 'typescript';

/** A text in a program that a person may read, with its place. */
export interface Words {
  readonly line: number;
  readonly text: string;
}

/** Calls whose texts go to the log or to whoever wrote the program, not to a person in front of the editor. */
const notShown = new Set(['error', 'warn', 'info', 'debug', 'appendLine', 'Error', 'TypeError']);

/**
 * Every text of a TypeScript file that is a sentence or a label, and is not handed to `l10n.t`: one that begins with a
 * capital letter and goes on with small ones, or that has two words and more. Texts of the log are left out.
 */
export function untranslated(name: string, source: string): Words[] {
  const file = ts.createSourceFile(name, source, ts.ScriptTarget.ES2022, true);
  const found: Words[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node) || ts.isTypeNode(node)) return;
    if (isCallOf(node, (called) => notShown.has(called.split('.').at(-1)!))) return;
    if (ts.isCallExpression(node) && node.expression.getText() === 'l10n.t')
      return node.arguments.slice(1).forEach(visit);
    if (ts.isCaseClause(node) || isComparison(node)) {
      ts.forEachChild(node, (child) => (ts.isStringLiteral(child) ? undefined : visit(child)));
      return;
    }
    const text = textOf(node);
    if (text !== undefined && isWords(text))
      found.push({ line: file.getLineAndCharacterOfPosition(node.getStart()).line + 1, text });
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

function isCallOf(node: ts.Node, fits: (called: string) => boolean): boolean {
  return (ts.isCallExpression(node) || ts.isNewExpression(node)) && fits(node.expression.getText());
}

function isComparison(node: ts.Node): boolean {
  return (
    ts.isBinaryExpression(node) &&
    [ts.SyntaxKind.EqualsEqualsEqualsToken, ts.SyntaxKind.ExclamationEqualsEqualsToken].includes(
      node.operatorToken.kind,
    )
  );
}

/** What a literal says; of a template all but its values, each as `{}`. */
function textOf(node: ts.Node): string | undefined {
  if (ts.isStringLiteralLike(node)) return node.text;
  if (!ts.isTemplateExpression(node)) return undefined;
  return [node.head.text, ...node.templateSpans.map(({ literal }) => literal.text)].join('{}');
}

function isWords(text: string): boolean {
  const plain = text
    .replaceAll('{}', ' ')
    .replaceAll(/\$\([\w~-]+\)/g, ' ')
    .trim();
  return /^[A-Z][a-z]+/.test(plain) || /[A-Za-z]{2,} [a-z]{2,}/.test(plain);
}

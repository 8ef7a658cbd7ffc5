import { builtinModules } from 'node:module';
import tseslint from 'typescript-eslint';

/** Forbids imports by pattern, with the reason as the message. */
const forbid = (...groups) => ({
  'no-restricted-imports': ['error', { patterns: groups.map(([regex, message]) => ({ regex, message })) }],
});

const noVscode = ['^vscode$', 'Nothing in server/ knows VS Code.'];
const noLsp = [
  '^vscode-(languageserver|jsonrpc|languageclient)(?!-textdocument|-types)|^vscode-languageserver-(textdocument|types|protocol)',
  'Only features/ and the ways in know the Language Server Protocol.',
];
const noNode = [
  `^(node:.*|${builtinModules
    .filter((name) => !name.startsWith('_'))
    .map((name) => name.replace('/', '\\/'))
    .join('|')})$`,
  'The browser way in reaches this file: no Node built-in here.',
];

export default tseslint.config(
  {
    ignores: ['**/dist/**', '**/node_modules/**', 'server/src/generated/**', 'tests/output/**', '.cache/**'],
  },
  ...tseslint.configs.recommendedTypeChecked,
  {
    languageOptions: {
      parserOptions: {
        projectService: { allowDefaultProject: ['*.js', '*.mjs'] },
        tsconfigRootDir: import.meta.dirname,
      },
    },
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-non-null-assertion': 'off', // indices checked by the loop around them
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/switch-exhaustiveness-check': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      eqeqeq: 'error',
      'max-lines': ['error', { max: 400 }],
      'no-console': 'error',
    },
  },
  {
    files: ['server/src/**/*.ts'],
    rules: forbid(noVscode),
  },
  {
    // Everything the browser way in reaches.
    files: [
      'server/src/{text,incremental,files,protocol,queries,rules,reports,workspace,lsp}/**/*.ts',
      'server/src/browser.ts',
    ],
    ignores: ['server/src/workspace/nodeFileSource.ts', 'server/src/lsp/server/serveNode.ts'],
    rules: forbid(noVscode, noNode),
  },
  {
    files: ['server/src/{text,incremental,files,protocol,queries,rules,reports,workspace}/**/*.ts'],
    ignores: ['server/src/workspace/nodeFileSource.ts'],
    rules: forbid(noVscode, noNode, noLsp),
  },
  {
    files: ['server/src/model/**/*.ts'],
    rules: {
      ...forbid(['^(?!\\.\\.?/|@stdlib/)', 'model/ imports files and special functions only.']),
      'no-restricted-globals': [
        'error',
        'Date',
        'performance',
        'process',
        'setTimeout',
        'fetch',
        'crypto',
        'console',
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'Pass in a seeded source.' },
      ],
    },
  },
  {
    files: ['client/**/*.ts'],
    rules: forbid([
      '\\.\\./server/src/(?!protocol/|git/)',
      'The client shares the protocol and the reading of git with the server, nothing else.',
    ]),
  },
  {
    files: ['tests/**/*.ts', 'samples/**/*.ts', 'schemas/*.ts', '*.config.ts'],
    rules: {
      'no-console': 'off',
      '@typescript-eslint/unbound-method': 'off', // the editor's and the browser's methods, taken apart by name
      '@typescript-eslint/no-floating-promises': [
        'error',
        { allowForKnownSafeCalls: ['it', 'test', 'describe'] },
      ],
    },
  },
  { files: ['**/*.js', '**/*.mjs', '**/*.cjs'], ...tseslint.configs.disableTypeChecked },
);

import tseslint from 'typescript-eslint';

// What a file may import is a matter of the rooms: see .dependency-cruiser.mjs.
export default tseslint.config(
  {
    ignores: ['**/dist/**', '**/node_modules/**', 'server/src/generated/**', 'tests/output/**', '.cache/**'],
  },
  ...tseslint.configs.recommendedTypeChecked,
  {
    languageOptions: {
      parserOptions: {
        projectService: { allowDefaultProject: ['*.js', '*.mjs', '.github/actions/*/*.mjs'] },
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
    // The model's answers depend on what it is given alone: no clock, no chance, nothing of the machine.
    files: ['server/src/model/**/*.ts'],
    rules: {
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
    // What the editor shows goes through the functions of messages.ts and tellPerson.ts, which break up links and icons.
    files: ['client/src/**/*.ts', 'server/src/**/*.ts'],
    ignores: ['client/src/editor/messages.ts', 'server/src/lsp/server/tellPerson.ts', 'server/src/model/**'],
    rules: {
      'no-restricted-properties': [
        'error',
        ...[
          'showInformationMessage',
          'showWarningMessage',
          'showErrorMessage',
          'showQuickPick',
          'createQuickPick',
          'showInputBox',
          'createInputBox',
          'setStatusBarMessage',
          'createStatusBarItem',
          'withProgress',
          'withScmProgress',
          'createWorkDoneProgress',
          'MarkdownString',
        ].map((property) => ({
          property,
          message:
            'Show it with client/src/editor/messages.ts, or in the server with lsp/server/tellPerson.ts.',
        })),
      ],
      'no-restricted-imports': [
        'error',
        {
          paths: [
            {
              name: 'vscode',
              importNames: ['MarkdownString'],
              message: 'It can hold links that run commands.',
            },
          ],
        },
      ],
    },
  },
  {
    // What is printed goes through the functions of io.ts, which make it safe for a terminal.
    files: ['server/src/cli/**/*.ts'],
    ignores: ['server/src/cli/terminal/io.ts'],
    rules: {
      'no-restricted-syntax': [
        'error',
        {
          selector: "MemberExpression[property.name='write'][object.property.name=/^std(out|err)$/]",
          message: 'Print with printLines, printText, printJson or printNotice (cli/terminal/io.ts).',
        },
      ],
    },
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

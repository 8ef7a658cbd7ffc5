// The rooms of the project, from the ground up: each may import what stands above it in this list, and itself.
// `npm run rooms` draws them with their arrows; it fails where an arrow runs up, where files import each other in a
// circle, and where a room knows something of the outside that this table does not grant it.
import { builtinModules } from 'node:module';

/** The Language Server Protocol: only the editor's face and the ways in know it. */
const lsp = [
  'vscode-languageserver',
  'vscode-languageserver-textdocument',
  'vscode-languageserver-types',
  'vscode-languageserver-protocol',
  'vscode-jsonrpc',
];
/** The editor, and the library that speaks to the server. */
const client = ['vscode', 'vscode-languageclient', 'vscode-jsonrpc'];
const underModel = 'server/src/model';

/**
 * Rooms in their order. `only` narrows what a room may import of the rooms above; left out, all of them.
 * `packages` are the npm packages that it may import (a name that ends in a slash means all of that scope);
 * left out, none. `node` lets it use what is built into Node; left out, it may not.
 */
export const rooms = [
  // What knows nothing of this project.
  { room: 'server/src/text', only: [], packages: ['fastest-levenshtein', 'string-width'] },
  { room: 'server/src/safeText', only: ['text'] },
  { room: 'server/src/incremental', only: [] },
  { room: 'server/src/tables', only: ['text'], packages: ['csv-parse'] },
  { room: 'server/src/generated', only: [], packages: ['ajv'] },
  { room: 'server/src/git', only: [], node: true },
  // The numbers: plain data in, plain data out.
  { room: `${underModel}/core`, only: ['incremental'], packages: ['@stdlib/'] },
  { room: `${underModel}/skill`, only: ['incremental', 'model/core'], packages: ['@stdlib/'] },
  { room: `${underModel}/run`, only: ['incremental', 'model/(core|skill)'], packages: ['@stdlib/'] },
  { room: `${underModel}/pool`, only: ['incremental', 'model/(core|skill|run)'] },
  { room: `${underModel}/standing`, only: ['incremental', 'model/(core|skill|run)'], packages: ['@stdlib/'] },
  {
    room: `${underModel}/rank`,
    only: ['incremental', 'model/(core|skill|run|standing)'],
    packages: ['@stdlib/'],
  },
  {
    room: `${underModel}/week`,
    only: ['incremental', 'model/(core|skill|run|standing|rank)'],
    packages: ['@stdlib/'],
  },
  {
    room: `${underModel}/tonight`,
    only: ['incremental', 'model/(core|skill|run|standing|rank|week)'],
  },
  {
    room: `${underModel}/review`,
    only: ['incremental', 'model/(core|skill|run|standing|rank)'],
    packages: ['@stdlib/'],
  },
  { room: underModel, only: ['incremental', 'model'] },
  // What the server and the client say to each other.
  { room: 'server/src/protocol', only: ['text', 'model/core'] },
  { room: 'server/src/protocol/messages', only: ['model/core', 'protocol'], packages: ['vscode-jsonrpc'] },
  // A text becomes a document, documents a project, a project a question to the model.
  { room: 'server/src/files/fileKind.ts', only: [] },
  { room: 'server/src/files/yaml', only: ['text', 'incremental', 'files/fileKind'], packages: ['yaml'] },
  { room: 'server/src/files/schema', only: ['text', 'incremental', 'generated', 'files'], packages: ['ajv'] },
  { room: 'server/src/files/reading', only: ['text', 'incremental', 'files'] },
  { room: 'server/src/files/edit', only: ['text', 'incremental', 'files'], packages: ['yaml'] },
  { room: 'server/src/files/documents', only: ['text', 'incremental', 'generated', 'files'] },
  { room: 'server/src/routeTables', only: ['text', 'tables', 'files'] },
  // Files that somebody else may have put there.
  { room: 'server/src/disk', only: ['files'], node: true },
  { room: 'server/src/workspace', only: ['text', 'incremental', 'files'], packages: ['vscode-uri'] },
  {
    room: 'server/src/workspace/nodeFileSource.ts',
    only: ['text', 'incremental', 'disk', 'files', 'workspace'],
    packages: ['vscode-uri'],
    node: true,
  },
  {
    room: 'server/src/queries',
    only: ['text', 'incremental', 'generated', 'model', 'files', 'workspace'],
    packages: ['@noble/hashes'],
  },
  {
    room: 'server/src/journal',
    only: ['text', 'safeText', 'disk', 'files'],
    packages: ['vscode-uri'],
    node: true,
  },
  {
    room: 'server/src/rules/lookup',
    only: ['text', 'incremental', 'generated', 'model', 'files', 'workspace', 'queries'],
  },
  {
    room: 'server/src/rules/engine',
    only: ['text', 'incremental', 'model', 'files', 'workspace', 'queries', 'rules'],
  },
  {
    room: 'server/src/rules/checks',
    only: ['text', 'incremental', 'generated', 'model', 'files', 'workspace', 'queries', 'rules'],
  },
  {
    room: 'server/src/rules',
    only: ['text', 'incremental', 'model', 'files', 'workspace', 'queries', 'rules'],
  },
  { room: 'server/src/reports', packages: ['ical-generator', '@types/sarif'] },
  { room: 'server/src/logging', packages: ['vscode-uri'] },
  { room: 'server/src/logging/waitingEntries.ts', node: true },
  // The two faces: the editor and the command line.
  { room: 'server/src/lsp/documents', packages: [...lsp, 'vscode-uri'] },
  { room: 'server/src/lsp/estimates', packages: [...lsp, 'vscode-uri'] },
  { room: 'server/src/lsp/checking', packages: [...lsp, 'vscode-uri'] },
  { room: 'server/src/lsp/editing', packages: [...lsp, 'vscode-uri'] },
  { room: 'server/src/lsp/requests', packages: [...lsp, 'vscode-uri'] },
  { room: 'server/src/lsp/actions', packages: [...lsp, 'vscode-uri'] },
  { room: 'server/src/lsp/practice', packages: [...lsp, 'vscode-uri'] },
  { room: 'server/src/lsp/server', packages: [...lsp, 'vscode-uri'] },
  {
    room: 'server/src/cli/terminal/layout',
    only: ['text', 'safeText', 'reports'],
    packages: ['string-width'],
  },
  { room: 'server/src/cli/terminal', packages: ['vscode-uri'], node: true },
  { room: 'server/src/cli/descriptions', only: ['text', 'model', 'cli/terminal'] },
  { room: 'server/src/cli/completion', only: ['cli/terminal'] },
  { room: 'server/src/cli/threads', only: [], packages: ['workerpool'], node: true },
  { room: 'server/src/cli/project', packages: ['vscode-uri'], node: true },
  { room: 'server/src/cli/checking', packages: ['workerpool'], node: true },
  { room: 'server/src/cli/log', packages: ['vscode-uri'], node: true },
  { room: 'server/src/cli/route' },
  { room: 'server/src/cli/pool', packages: ['vscode-uri', 'workerpool'], node: true },
  { room: 'server/src/cli/commands', node: true },
  { room: 'server/src/cli', packages: ['vscode-uri'], node: true },
  // The ways in: the browser's has no Node.
  { room: 'server/src/browser.ts', packages: lsp },
  { room: 'server/src', packages: lsp, node: true },
  // The pages share shapes with the server, and know no library that speaks its protocol.
  { room: 'client/panel', only: ['text', 'protocol/(?!messages/).*'], packages: ['d3'] },
  { room: 'client/practice', only: ['text', 'protocol/(?!messages/).*'] },
  // The extension in the editor. Only the ways in and the server's thread know which kind of editor they run in.
  { room: 'client/src/editor', only: ['protocol', 'safeText'], packages: client },
  { room: 'client/src/webview', only: ['protocol/shape', 'client/src/editor'], packages: client },
  { room: 'client/src/server', only: ['protocol', 'git', 'client/src/editor'], packages: client, node: true },
  { room: 'client/src/routes', only: ['protocol', 'client/src/(editor|server)'], packages: client },
  {
    room: 'client/src/views',
    only: ['protocol', 'safeText', 'client/src/(editor|server|routes)'],
    packages: client,
  },
  {
    room: 'client/src/commands',
    only: ['protocol', 'git', 'client/src/(editor|server|routes|views)'],
    packages: client,
  },
  {
    room: 'client/src/panel',
    only: ['protocol', 'client/src/(editor|webview|server|routes|views)'],
    packages: client,
  },
  {
    room: 'client/src/practice',
    only: ['protocol', 'client/src/(editor|webview|server|routes|views)'],
    packages: client,
  },
  { room: 'client/src', only: ['protocol', 'git', 'client/src'], packages: client },
];

/** What `only` names, as a path from the root: a room of the server where it does not say client. */
const pathOf = (room) => `^${room.startsWith('client/') ? '' : 'server/src/'}${room}(/|[.]ts$|$)`;

/** The scripts of the pages in webviews. */
const pageScripts = ['client/panel/main.ts', 'client/practice/main.ts', 'client/practice/run/main.ts'];

const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** A module of Node's own, as dependency-cruiser names it: without `node:`. */
const builtIn = `^(node:.*|${builtinModules.map(escaped).join('|')})$`;

/** An npm package, whether it was found in node_modules or is known by its name alone. */
const inPackage = (name) => `(^|node_modules/|@types/)${escaped(name)}${name.endsWith('/') ? '' : '(/|$)'}`;

/** The files of a room: of all rooms that a file lies in, the innermost is its own. */
const inside = (room) => {
  if (room.endsWith('.ts')) return `^${escaped(room)}$`;
  const inner = rooms.map((other) => other.room).filter((other) => other.startsWith(`${room}/`));
  const others = inner.map(
    (other) => `${escaped(other.slice(room.length + 1))}${other.endsWith('.ts') ? '$' : '/'}`,
  );
  return `^${escaped(room)}/${others.length > 0 ? `(?!${others.join('|')})` : ''}`;
};

const rule = (name, from, to) => ({ name, severity: 'error', from, to });

/** What the table says of one room, as rules. */
const rulesOf = ({ room, only, packages = [], node = false }, floor) => {
  const from = { path: inside(room) };
  const higher = rooms.slice(floor + 1).map((other) => inside(other.room));
  return [
    ...(higher.length > 0
      ? [rule(`${room} imports nothing that stands higher`, from, { path: higher })]
      : []),
    ...(only
      ? [
          rule(`${room} imports only ${only.join(', ') || 'itself'}`, from, {
            path: '^(server/src|client)/',
            pathNot: [`^${escaped(room)}(/|$)`, ...only.map(pathOf)],
          }),
        ]
      : []),
    ...(node ? [] : [rule(`${room} uses nothing that is built into Node`, from, { path: builtIn })]),
    rule(`${room} imports of npm only ${packages.join(', ') || 'nothing'}`, from, {
      pathNot: ['^server/(src/|package[.]json)', '^client/', builtIn, ...packages.map(inPackage)],
    }),
  ];
};

export default {
  forbidden: [
    rule('no circle of imports', {}, { circular: true }),
    rule(
      'the client shares what is said, plain and safe text and the reading of git with the server, and nothing else',
      { path: '^client/' },
      { path: '^server/', pathNot: '^server/src/(protocol|text|safeText|git)/' },
    ),
    rule('nothing in server/ knows VS Code', { path: '^server/' }, { path: inPackage('vscode') }),
    // The extension in a browser takes types from files that use Node; build.mjs fails where it takes more than types.
    ...['server/src/browser.ts', ...pageScripts].map((way) =>
      rule(
        `${way} reaches nothing that is built into Node`,
        { path: `^${escaped(way)}$` },
        { path: builtIn, reachable: true },
      ),
    ),
    ...rooms.flatMap(rulesOf),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(server/)?dist/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
  },
};

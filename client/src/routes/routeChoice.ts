import { commands, Disposable, l10n, Uri, window, type Memento } from 'vscode';
import { fileExists } from '../editor/fileEdits.ts';
import { showInformation } from '../editor/messages.ts';
import { isRoutewrightDocument, isRoutewrightFileName } from '../editor/selector.ts';
import { showFile } from '../editor/showFile.ts';
import { visibleRouteFile } from '../editor/visibleRouteFile.ts';
import { pickRoute, workspaceRoutes } from './routeFiles.ts';
import type { RunnerChoice } from './runnerChoice.ts';

const lastUsedKey = 'routewright.lastUsed';

/**
 * Which route a command is about. Every command that needs one asks here, so that none of them wants a file in front: the
 * file that it was called on, else one that is visible, else the only route of the open folders, else the file of a
 * route that was used last in this folder, else one that the person picks.
 */
export class RouteChoice extends Disposable {
  private readonly memory: Memento;
  private readonly runners: Pick<RunnerChoice, 'settle'>;
  private readonly listener: Disposable;

  /** @param memory of the open folder */
  constructor(memory: Memento, runners: Pick<RunnerChoice, 'settle'>) {
    super(() => {
      this.listener.dispose();
    });
    this.memory = memory;
    this.runners = runners;
    this.remember(visibleRouteFile());
    this.listener = window.onDidChangeActiveTextEditor((editor) => {
      if (editor && isRoutewrightDocument(editor.document)) this.remember(editor.document.uri.toString());
    });
  }

  /**
   * The URI of a file of the route; undefined where the person picks none.
   *
   * @param need what the command needs, a sentence: said where no route is to be found
   * @param calledOn what a menu passes to a command: the file that was clicked
   */
  async choose(need: string, calledOn?: unknown): Promise<string | undefined> {
    const existing = await this.chooseExisting(calledOn);
    if (existing !== null) return existing;
    const first = await firstRoute(need);
    this.remember(first);
    return first;
  }

  /** The same for a command that rests on the logs: where they are of several runners, it is asked whose count. */
  async chooseWithRunner(need: string, calledOn?: unknown): Promise<string | undefined> {
    const uri = await this.choose(need, calledOn);
    if (uri !== undefined) await this.runners.settle(uri);
    return uri;
  }

  /**
   * The same for a command that can begin a route: null where there is none yet.
   *
   * @param calledOn what a menu passes to a command: the file that was clicked
   */
  async chooseExisting(calledOn?: unknown): Promise<string | null | undefined> {
    const chosen = clickedFile(calledOn) ?? (await this.known()) ?? (await pickAmongRoutes());
    this.remember(chosen ?? undefined);
    return chosen;
  }

  /** The same without a question: undefined where there is none yet, or where the person would have to pick one. */
  async known(): Promise<string | undefined> {
    const visible = visibleRouteFile();
    if (visible !== undefined) return visible;
    const routes = await workspaceRoutes();
    if (routes.length === 1) return routes[0]!.toString();
    const last = this.memory.get<unknown>(lastUsedKey);
    return typeof last === 'string' && (await fileExists(Uri.parse(last))) ? last : undefined;
  }

  private remember(uri: string | undefined): void {
    if (uri !== undefined && uri !== this.memory.get(lastUsedKey)) void this.memory.update(lastUsedKey, uri);
  }
}

function clickedFile(calledOn: unknown): string | undefined {
  return calledOn instanceof Uri && isRoutewrightFileName(calledOn.path) ? calledOn.toString() : undefined;
}

/** The route that the person picks; undefined where they pick none, null where there is none. */
async function pickAmongRoutes(): Promise<string | null | undefined> {
  const routes = await workspaceRoutes();
  return routes.length === 0 ? null : (await pickRoute(routes, l10n.t('Which route?')))?.toString();
}

/** Offers the ways to a first route; its URI once it is there. */
async function firstRoute(need: string): Promise<string | undefined> {
  const ways = new Map<string, () => Thenable<unknown>>([
    [l10n.t('Create a Route'), () => commands.executeCommand('routewright.createRoute')],
    [l10n.t('Paste a Table'), () => commands.executeCommand('routewright.pasteTable')],
    [l10n.t('Open the Sample'), () => commands.executeCommand('routewright.openSample')],
    [l10n.t('Open a Route File'), openRouteFile],
  ]);
  const answer = await showInformation(l10n.t('{0} There is none in this folder yet.', need), ...ways.keys());
  if (answer === undefined) return undefined;
  await ways.get(answer)?.();
  return visibleRouteFile();
}

async function openRouteFile(): Promise<void> {
  const title = l10n.t('Open a Route File');
  const filters = { [l10n.t('Routewright files')]: ['yaml', 'yml'] };
  const [picked] = (await window.showOpenDialog({ title, filters })) ?? [];
  if (picked) await showFile(picked);
}

import { commands, Disposable, l10n, Uri, window, type Memento } from 'vscode';
import { fileExists } from '../editor/fileEdits.ts';
import { pick, showInformation } from '../editor/messages.ts';
import { isRoutewrightDocument, isRoutewrightFileName } from '../editor/selector.ts';
import { visibleRouteFile } from '../editor/visibleRouteFile.ts';
import { routeItem, workspaceRoutes } from './routeFiles.ts';

const lastUsedKey = 'routewright.lastUsed';

/**
 * Which route a command is about. Every command that needs one asks here, so that none of them wants a file in front: the
 * file that it was called on, else one that is visible, else the only route of the open folders, else the file of a
 * route that was used last in this folder, else one that the person picks.
 */
export class RouteChoice extends Disposable {
  private readonly memory: Memento;
  private readonly listener: Disposable;

  /** @param memory of the open folder */
  constructor(memory: Memento) {
    super(() => {
      this.listener.dispose();
    });
    this.memory = memory;
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
    const there = await this.chooseExisting(calledOn);
    const chosen = there === null ? await firstRoute(need) : there;
    this.remember(chosen);
    return chosen;
  }

  /**
   * The same for a command that can begin a route: null where there is none yet.
   *
   * @param calledOn what a menu passes to a command: the file that was clicked
   */
  async chooseExisting(calledOn?: unknown): Promise<string | null | undefined> {
    const chosen = clickedFile(calledOn) ?? visibleRouteFile() ?? (await this.chooseUnseen());
    this.remember(chosen ?? undefined);
    return chosen;
  }

  /** The same without a question: undefined where the person would have to pick. */
  async known(): Promise<string | undefined> {
    return visibleRouteFile() ?? (await this.knownUnseen(await workspaceRoutes()));
  }

  private async knownUnseen(routes: readonly Uri[]): Promise<string | undefined> {
    if (routes.length === 1) return routes[0]!.toString();
    const last = this.memory.get<unknown>(lastUsedKey);
    return typeof last === 'string' && (await fileExists(Uri.parse(last))) ? last : undefined;
  }

  private async chooseUnseen(): Promise<string | null | undefined> {
    const routes = await workspaceRoutes();
    const known = await this.knownUnseen(routes);
    if (known !== undefined) return known;
    if (routes.length === 0) return null;
    const title = l10n.t('Which route?');
    return (await pick(routes.map(routeItem), { title, matchOnDescription: true }))?.route.toString();
  }

  private remember(uri: string | undefined): void {
    if (uri !== undefined && uri !== this.memory.get(lastUsedKey)) void this.memory.update(lastUsedKey, uri);
  }
}

function clickedFile(calledOn: unknown): string | undefined {
  return calledOn instanceof Uri && isRoutewrightFileName(calledOn.path) ? calledOn.toString() : undefined;
}

/** Offers the ways to a first route; its URI once it is there. */
async function firstRoute(need: string): Promise<string | undefined> {
  const [create, paste, sample, open] = [
    l10n.t('Create a Route'),
    l10n.t('Paste a Table'),
    l10n.t('Open the Sample'),
    l10n.t('Open a Route File'),
  ];
  const answer = await showInformation(
    l10n.t('{0} There is none in this folder yet.', need),
    create,
    paste,
    sample,
    open,
  );
  if (answer === create) await commands.executeCommand('routewright.createRoute');
  if (answer === paste) await commands.executeCommand('routewright.pasteTable');
  if (answer === sample) await commands.executeCommand('routewright.openSample');
  if (answer === open) await openRouteFile(open);
  return answer === undefined ? undefined : visibleRouteFile();
}

async function openRouteFile(title: string): Promise<void> {
  const filters = { [l10n.t('Routewright files')]: ['yaml', 'yml'] };
  const [picked] = (await window.showOpenDialog({ title, filters })) ?? [];
  if (picked) await window.showTextDocument(picked);
}

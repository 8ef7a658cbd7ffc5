import { commands, Disposable, EventEmitter, l10n, Uri, workspace, type Memento } from 'vscode';
import type { QuickPickItem } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  chosenRunnersNotification,
  whoseLogsRequest,
  type WhoseLogs,
} from '../../../server/src/protocol/messages/runners.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { pick, showInformation } from '../editor/messages.ts';
import { showRefusal } from '../editor/notices.ts';

const chosenKey = 'routewright.chosenRunners';

/** The command that asks whose logs count. */
export const chooseRunnerCommand = 'routewright.chooseRunner';

interface RunnerItem extends QuickPickItem {
  /** Undefined: nobody is chosen any more. */
  readonly runner: string | undefined;
}

/**
 * Whose logs count in folders with logs of several runners: asked once for each folder where the files do not say it, and
 * kept in the workspace. What a person has chosen comes before everything else, also before the file in front. The server
 * decides what follows from a choice, by the function that the command line uses.
 */
export class RunnerChoice extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly memory: Memento;
  private readonly changed = new EventEmitter<undefined>();
  /** Fires when a runner was chosen. */
  readonly onDidChange = this.changed.event;

  /** @param memory of the open workspace */
  constructor(client: BaseLanguageClient, memory: Memento) {
    super(() => this.changed.dispose());
    this.client = client;
    this.memory = memory;
  }

  /** The runners chosen so far, by the URI of the folder; the server ignores what is no name. */
  chosen(): Record<string, string> {
    return this.memory.get<Record<string, string>>(chosenKey, {});
  }

  /**
   * Asks whose logs count where that is not known. Where the person does not answer, whatever is asked next is answered
   * by the sentence that says why there is no answer.
   *
   * @param uri a file of the route
   */
  async settle(uri: string): Promise<void> {
    try {
      const whose = await this.client.sendRequest(whoseLogsRequest, { uri });
      if (!isRefusal(whose) && whose.problem !== null) await this.ask(whose);
    } catch (error) {
      // The request that follows fails as well and tells the person.
      this.client.error('Whose logs count is not known.', error, false);
    }
  }

  /** Asks in any case, also where it is known. @param uri a file of the route */
  async choose(uri: string): Promise<void> {
    const whose = await this.client.sendRequest(whoseLogsRequest, { uri });
    if (isRefusal(whose)) return showRefusal(whose);
    if (whose.choice) return this.ask(whose);
    void showInformation(
      whose.counts
        ? l10n.t(
            'The logs of this route name one runner, {0}: there is nothing to choose.',
            whose.counts.name,
          )
        : l10n.t('The logs of this route name no runner: all of them count.'),
    );
  }

  private async ask({
    folder,
    runners,
    counts,
    byFiles,
    chosen: isChosen,
    problem,
  }: WhoseLogs): Promise<void> {
    const named = runners.map(({ runner, name, files }): RunnerItem => ({
      label: name,
      description: runner === counts?.runner ? l10n.t('{0} · counts now', files) : files,
      runner,
    }));
    const nobody: RunnerItem = {
      label: l10n.t('Leave It to the Files'),
      description: byFiles
        ? l10n.t('{0} for this file', byFiles.name)
        : l10n.t('asked again where they do not say it'),
      runner: undefined,
    };
    const chosen = await pick(isChosen ? [...named, nobody] : named, {
      title: l10n.t('Whose logs count in {0}?', workspace.asRelativePath(Uri.parse(folder))),
      placeHolder: problem ?? l10n.t('Ranking, week, review and logging follow this runner.'),
      matchOnDescription: true,
      ignoreFocusOut: true,
    });
    if (chosen) await this.keep(folder, chosen.runner);
  }

  private async keep(folder: string, runner: string | undefined): Promise<void> {
    const others = Object.entries(this.chosen()).filter(([of]) => of !== folder);
    const runners = Object.fromEntries(runner === undefined ? others : [...others, [folder, runner]]);
    await this.memory.update(chosenKey, runners);
    await this.client.sendNotification(chosenRunnersNotification, { runners });
    this.changed.fire(undefined);
  }
}

/** Registers the command that asks. @param known the route that the command is about; undefined where there is none */
export function registerChooseRunner(
  runners: RunnerChoice,
  known: (calledOn: unknown) => Promise<string | undefined>,
): Disposable {
  return commands.registerCommand(chooseRunnerCommand, async (calledOn: unknown) => {
    const uri = await known(calledOn);
    if (uri !== undefined) await runners.choose(uri);
  });
}

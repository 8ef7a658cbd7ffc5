import {
  commands,
  Disposable,
  l10n,
  Uri,
  window,
  workspace,
  type ExtensionContext,
  type WebviewPanel,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { practiceChangedNotification } from '../../../server/src/protocol/messages/practiceBlock.ts';
import {
  bindingsShape,
  defaultBindings,
  type Bindings,
} from '../../../server/src/protocol/practice/bindings.ts';
import { isCounting, isOpen } from '../../../server/src/protocol/practice/phases.ts';
import {
  practiceViewMessageShape,
  type PracticeEditorMessage,
  type PracticeViewMessage,
} from '../../../server/src/protocol/practice/pageMessages.ts';
import { pageColumn } from '../editor/columns.ts';
import { completeStep } from '../routes/firstSteps.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { fetchOffer, offeredOf, pickTechnique } from './offer.ts';
import { EndNotice } from './endNotice.ts';
import { hasUnsavedChanges, saveDocument } from './practiceEditor.ts';
import { practicePage } from './practicePage.ts';
import { BlockController } from './blockController.ts';
import { BlockStatus } from './blockStatus.ts';
import type { RunningBlock } from './runningBlock.ts';
import { StrayKeys } from './strayKeys.ts';
import { takeNotification } from '../../../server/src/protocol/messages/message.ts';
import type { PracticeData } from '../../../server/src/protocol/practice/blockView.ts';
import { showInformation, showStatus } from '../editor/messages.ts';
import { failureSentence, showFailure } from '../editor/notices.ts';
import { Timer } from '../editor/timer.ts';
import { showPage } from '../webview/showPage.ts';
import { readStored } from '../webview/storedState.ts';

const viewType = 'routewright.practice';
/** Brings the view of the block to the front; not in the palette, where Start Practice Block does the same. */
const showCommand = 'routewright.showPracticeBlock';
const bindingsKey = 'routewright.practiceKeys';
const largeKey = 'routewright.practiceLarge';

/** Minutes by which a block is made shorter or longer. */
const stepMinutes = 5;

/** Milliseconds for which the status bar says that a block is saved. */
const statusMs = 5000;

/** Longest time, in milliseconds, that the editor takes to restore a view after a restart. */
const viewRestoreMs = 4000;

/** The command Start Practice Block, and the view of the running block. */
export class PracticePanel extends Disposable {
  private readonly client: BaseLanguageClient;
  private readonly routes: RouteChoice;
  private readonly context: ExtensionContext;
  private readonly controller: BlockController;
  private readonly status = new BlockStatus(showCommand);
  private readonly notice = new EndNotice({
    show: () => this.open(),
    save: (block) => this.guarded(() => this.endAndSave(block)),
  });
  private readonly stray = new StrayKeys(
    () => {
      const { running } = this.controller;
      const unheard = running && isCounting(running.phase) && !this.takesKeys();
      return unheard ? { name: running.name, bindings: this.bindings() } : undefined;
    },
    () => this.open(),
  );
  private readonly listeners: Disposable;
  private panel: WebviewPanel | undefined;
  private ready = false;
  /** Waits for the editor to restore the view. */
  private readonly restoring = new Timer();

  constructor(client: BaseLanguageClient, routes: RouteChoice, context: ExtensionContext) {
    super(() => this.end());
    this.client = client;
    this.routes = routes;
    this.context = context;
    this.controller = new BlockController(client, context.workspaceState, () => this.show());
    this.listeners = Disposable.from(
      this.status,
      this.stray,
      commands.registerCommand(showCommand, () => this.open()),
      commands.registerCommand('routewright.startPracticeBlock', (calledOn: unknown, technique: unknown) =>
        this.guarded(() => this.start(calledOn, technique)),
      ),
      window.registerWebviewPanelSerializer(viewType, {
        deserializeWebviewPanel: (panel) => {
          // A block that ran before this start has ended and is logged by now: an empty view is not shown.
          if (this.controller.running) this.adopt(panel);
          else panel.dispose();
          return Promise.resolve();
        },
      }),
      // At the rest the view offers to save the log until it is saved.
      workspace.onDidSaveTextDocument(({ uri }) => {
        if (uri.toString() === this.controller.running?.uri) this.show();
      }),
      takeNotification(
        client,
        practiceChangedNotification,
        ({ uri }) => void this.guarded(() => this.controller.changed(uri)),
      ),
    );
  }

  /** Continues a block that ran when the editor was closed or crashed. To be called when the server runs. */
  resume(): void {
    if (!this.controller.running) return;
    void this.guarded(() => this.controller.resume());
    this.restoring.start(viewRestoreMs, () => {
      if (!this.panel) void this.guarded(() => this.askAboutHiddenBlock(l10n.t('is still running')));
    });
  }

  /** @param technique the id of the technique to practise; left out, or where it cannot be practised, the person picks one */
  private async start(calledOn?: unknown, technique?: unknown): Promise<void> {
    const { running } = this.controller;
    if (running && isOpen(running.phase)) {
      this.open();
      return;
    }
    const file = calledOn ?? (running && Uri.parse(running.uri));
    const uri = await this.routes.chooseWithRunner(l10n.t('A practice block needs a route.'), file);
    if (uri === undefined) return;
    const offer = await fetchOffer(this.client, uri, true);
    const chosen =
      offer && (offeredOf(offer, technique) ?? (await pickTechnique(offer, l10n.t('Practice block'), true)));
    if (!offer || !chosen) return;
    await this.controller.begin(offer, chosen);
    completeStep('practise');
    this.open();
  }

  private open(): void {
    if (this.panel) {
      this.panel.reveal(undefined, false);
      return;
    }
    this.adopt(window.createWebviewPanel(viewType, l10n.t('Practice'), pageColumn(), {}));
  }

  private adopt(panel: WebviewPanel): void {
    this.panel?.dispose();
    this.panel = panel;
    this.ready = false;
    showPage(panel, this.context.extensionUri, practicePage, practiceViewMessageShape, (message) => {
      void this.guarded(() => this.handleMessage(message));
    });
    panel.onDidChangeViewState(() => this.showStatus());
    panel.onDidDispose(() => {
      if (this.panel !== panel) return;
      this.panel = undefined;
      this.showStatus();
      void this.guarded(() => this.askAboutHiddenBlock(l10n.t('goes on, and its time is kept')));
    });
  }

  /** Asks what to do with a block whose view was closed, so that closing does not end it by accident. */
  private async askAboutHiddenBlock(how: string): Promise<void> {
    const { running } = this.controller;
    if (!running || !isOpen(running.phase)) return;
    const [show, end] = [l10n.t('Show It'), l10n.t('End the Block')];
    const answer = await showInformation(l10n.t('The block of {0} {1}.', running.name, how), show, end);
    if (answer === show) this.open();
    if (answer !== end) return;
    await this.controller.end();
    if (this.controller.running?.phase === 'count') this.open();
    else if (this.controller.running) await showInformation(this.controller.said);
  }

  private async handleMessage(message: PracticeViewMessage): Promise<void> {
    const { controller } = this;
    switch (message.type) {
      case 'ready':
        this.ready = true;
        return this.show();
      case 'press':
        return controller.press(message.action, (written) => {
          this.post({ type: 'answered', press: message.press, written });
        });
      case 'counts':
        return controller.finish([message.landed, message.tries]);
      case 'timeOnly':
        return controller.finish(null);
      case 'leaveOut':
        return controller.leaveOut();
      case 'next':
        return controller.beginNext();
      case 'other':
        return this.start();
      case 'close':
        await controller.forget();
        this.panel?.dispose();
        return;
      case 'correct':
        return controller.correctCycle();
      case 'keep':
        return controller.dismissSlowPace();
      case 'less':
        return controller.lengthen(-stepMinutes);
      case 'more':
        return controller.lengthen(stepMinutes);
      case 'pause':
        return controller.pause();
      case 'resume':
        return controller.goOn();
      case 'save':
        if (controller.running) await saveDocument(controller.running.uri);
        return this.show();
      case 'large':
        await this.context.globalState.update(largeKey, message.large);
        return this.show();
      case 'bind':
        await this.context.globalState.update(bindingsKey, message.bindings);
        return;
    }
  }

  private bindings(): Bindings {
    return readStored(bindingsShape, this.context.globalState.get(bindingsKey)) ?? defaultBindings;
  }

  private isLarge(): boolean {
    return this.context.globalState.get(largeKey) === true;
  }

  private show(): void {
    const data = this.controller.data(this.bindings(), this.isLarge());
    this.showStatus(data);
    this.tellOfEnd(data);
    if (!this.panel || !this.ready || !data) return;
    this.panel.title = l10n.t('Practice: {0}', data.name);
    this.post({ type: 'show', data });
  }

  private showStatus(data = this.controller.data(this.bindings(), this.isLarge())): void {
    // Once the rest is over, a view that was closed is not waited for.
    const isOver = data?.phase === 'rested' && !this.panel;
    const takesKeys = this.takesKeys();
    if (takesKeys) this.stray.heard();
    this.status.show(data && !isOver ? { data, takesKeys } : undefined);
  }

  /** Whether the keys of a block reach it: its view is in front. */
  private takesKeys(): boolean {
    return this.ready && this.panel?.active === true;
  }

  private tellOfEnd(data: PracticeData | undefined): void {
    const { running } = this.controller;
    if (!running || !data) return;
    const landed = data.attempts.filter((one) => one.landed).length;
    const isVisible = this.panel?.visible === true;
    void this.notice.tell(running, landed, data.attempts.length, isVisible);
  }

  private async endAndSave(block: RunningBlock): Promise<void> {
    // Meanwhile it may have ended by itself, and another one may run.
    if (this.controller.running?.block === block.block) await this.controller.end();
    await saveDocument(block.uri);
    this.show();
    showStatus(
      hasUnsavedChanges(block.uri)
        ? l10n.t('The log of {0} could not be saved.', block.name)
        : l10n.t('The block of {0} is saved.', block.name),
      statusMs,
    );
  }

  private post(message: PracticeEditorMessage): void {
    void this.panel?.webview.postMessage(message);
  }

  /** Runs some work and shows its failure: in the view where there is one, else as a message. */
  private async guarded(work: () => Promise<void> | void): Promise<void> {
    try {
      await work();
    } catch (error) {
      this.client.error('Practice got no answer.', error, false);
      const sentence = failureSentence(error);
      if (this.panel && this.controller.running) this.controller.say(sentence);
      else showFailure(sentence);
    }
  }

  private end(): void {
    // The view is not closed: the editor restores it at the next start, and the block with it.
    this.restoring.stop();
    this.listeners.dispose();
    this.controller.dispose();
  }
}

import { l10n } from 'vscode';
import { showInformation } from '../editor/messages.ts';
import { isNoticeWanted } from './practiceEditor.ts';
import type { RunningBlock } from './runningBlock.ts';

/** What the message at the end of a block can do. */
export interface EndNoticeActions {
  /** Brings the view of the block to the front. */
  readonly show: () => void;
  /** Ends this block where it still runs, and saves its log. */
  readonly save: (block: RunningBlock) => Promise<void>;
}

/**
 * Says in a message that a block's time is up, where the person has switched that on and the view of the block is not
 * to be seen. Once for each time that it is up.
 */
export class EndNotice {
  private readonly actions: EndNoticeActions;
  private told = '';

  constructor(actions: EndNoticeActions) {
    this.actions = actions;
  }

  /** @param landed attempts that landed, of so many tries. @param isVisible whether the view of the block is to be seen */
  async tell(block: RunningBlock, landed: number, tries: number, isVisible: boolean): Promise<void> {
    const { phase, timeUp, ends, name } = block;
    const isUp = phase === 'up' || (phase === 'count' && timeUp);
    const which = `${block.block} ${ends}`;
    if (!isUp || this.told === which) return;
    this.told = which;
    if (isVisible || !isNoticeWanted()) return;
    const [show, save] = [l10n.t('Show It'), l10n.t('Save')];
    const answer =
      phase === 'up'
        ? await showInformation(
            l10n.t('Time is up: {0}, {1} of {2} landed.', name, landed, tries),
            save,
            show,
          )
        : await showInformation(
            l10n.t('Time is up: {0}. How many landed was not counted by key.', name),
            show,
          );
    if (answer === save) await this.actions.save(block);
    if (answer === show) this.actions.show();
  }
}

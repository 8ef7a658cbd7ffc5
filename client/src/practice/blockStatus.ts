import { Disposable, l10n } from 'vscode';
import type { PracticeData } from '../../../server/src/protocol/practice/blockView.ts';
import { clockText } from '../../../server/src/protocol/practice/pace.ts';
import { isCounting } from '../../../server/src/protocol/practice/phases.ts';
import { StatusBarEntry } from '../editor/messages.ts';
import { Timer } from '../editor/timer.ts';

/** The running block, as its view shows it, and whether the view is in front. */
export interface ShownBlock {
  readonly data: PracticeData;
  /** Whether the keys of the block reach it: its view is in front. */
  readonly takesKeys: boolean;
}

/**
 * The item in the status bar that shows the running block wherever the person looks: its time, its count, and whether
 * keys reach it. A click brings its view to the front.
 */
export class BlockStatus extends Disposable {
  private readonly item: StatusBarEntry;
  private readonly second = new Timer();
  private shown: ShownBlock | undefined;

  /** @param command shows the view of the block */
  constructor(command: string) {
    super(() => {
      this.second.stop();
      this.item.dispose();
    });
    this.item = new StatusBarEntry('routewright.block', l10n.t('Practice Block'), command);
  }

  /** Shows a block; undefined: there is none. */
  show(block: ShownBlock | undefined): void {
    this.shown = block;
    this.second.stop();
    if (block && block.data.phase !== 'rested') this.second.repeat(1000, () => this.draw());
    this.draw();
  }

  private draw(): void {
    if (!this.shown) {
      this.item.hide();
      return;
    }
    const { data, takesKeys } = this.shown;
    const said = blockWords(data, Date.now());
    const elsewhere = isCounting(data.phase) && !takesKeys ? l10n.t('keys go elsewhere') : undefined;
    this.item.show(
      [{ icon: 'watch', text: [said, elsewhere].filter((part) => part !== undefined).join(', ') }],
      elsewhere === undefined
        ? l10n.t('Practice block. Click to see it.')
        : l10n.t('The keys of the block reach it only while its view is in front. Click to go back to it.'),
      l10n.t('Practice block: {0}', said),
    );
  }
}

/** A block in a few words, such as “Crate vault 12:31, 4 of 9 landed”. `now`: ms since 1970. */
export function blockWords({ name, phase, ends, restEnds, attempts }: PracticeData, now: number): string {
  const landed = attempts.filter((one) => one.landed).length;
  const count = l10n.t('{0} of {1} landed', landed, attempts.length);
  switch (phase) {
    case 'block': {
      const time = clockText(ends - now);
      return attempts.length === 0 ? `${name} ${time}` : `${name} ${time}, ${count}`;
    }
    case 'ready':
      return l10n.t('{0}: get ready', name);
    case 'paused':
      return l10n.t('{0}: paused, {1}', name, count);
    case 'up':
      return l10n.t('{0}: time is up, {1}', name, count);
    case 'count':
      return l10n.t('{0}: how many landed?', name);
    case 'rest':
      return l10n.t('Rest {0}', clockText((restEnds ?? now) - now));
    case 'rested':
      return l10n.t('The rest is over');
  }
}

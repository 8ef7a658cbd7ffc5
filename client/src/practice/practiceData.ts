import { l10n } from 'vscode';
import type { PracticeOffer } from '../../../server/src/protocol/messages/practiceOffer.ts';
import { practiceVersion, type Bindings } from '../../../server/src/protocol/practice/bindings.ts';
import type { LoggedAttempt, PracticeData } from '../../../server/src/protocol/practice/blockView.ts';
import type { SlowPace } from '../../../server/src/protocol/practice/pace.ts';
import { hasUnsavedChanges, isSoundWanted } from './practiceEditor.ts';
import type { RunningBlock } from './runningBlock.ts';
import { trustNote } from './trust.ts';

/** What is known of a block as it is shown. */
export interface BlockState {
  readonly block: RunningBlock;
  readonly attempts: readonly LoggedAttempt[];
  readonly slow: SlowPace | undefined;
  /** What can be practised once the block is logged; undefined while that is not known. */
  readonly offer: PracticeOffer | undefined;
  readonly planning: boolean;
  /** The sentence shown last. */
  readonly message: string;
  readonly bindings: Bindings;
  readonly large: boolean;
}

/** A block as its view shows it. */
export function practiceData({
  block: kept,
  attempts,
  slow,
  offer,
  planning,
  message,
  bindings,
  large,
}: BlockState): PracticeData {
  const { phase, route, name, from, cycle, began, ends, restEnds, promise, caution, timeUp } = kept;
  const next = offer?.next;
  return {
    version: practiceVersion,
    phase,
    route,
    name,
    from,
    cycle,
    now: Date.now(),
    began,
    ends,
    restEnds,
    pausedAt: kept.pausedAt ?? null,
    usual: kept.usual ?? '',
    standing: kept.standing ?? '',
    after: afterBlock(offer, kept.technique),
    notes: kept.notes ?? '',
    links: kept.links ?? [],
    timeUp,
    sound: isSoundWanted(),
    large,
    unsaved: hasUnsavedChanges(kept.uri),
    attempts,
    said: messageIn(kept, message),
    promise: promise + trustNote(),
    caution: offer?.caution ?? caution,
    slow: slow ? { text: slow.text, cycle: slow.cycle } : null,
    next: next
      ? { technique: next.technique, name: next.name, minutes: next.minutes, from: next.from }
      : null,
    planning,
    bindings,
  };
}

/** What is usual, and where the technique stands, once the block counts. */
function afterBlock(offer: PracticeOffer | undefined, technique: string): PracticeData['after'] {
  const now = offer?.techniques.find((one) => one.technique === technique);
  return now ? { usual: now.usual, standing: now.standingText } : null;
}

function messageIn({ phase, timeUp }: RunningBlock, words: string): string {
  if (phase === 'up') return l10n.t('Time is up. The attempt under way still counts. {0}', words).trim();
  return phase === 'count' && timeUp ? l10n.t('Time is up. {0}', words).trim() : words;
}

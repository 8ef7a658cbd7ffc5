import { Disposable, l10n, window, workspace, type TextDocumentChangeEvent } from 'vscode';
import type { Bindings } from '../../../server/src/protocol/practice/bindings.ts';
import { showWarning } from '../editor/messages.ts';

/** Milliseconds without a letter after which a letter is not part of a word that is being written. */
const wordPauseMs = 1500;

/** A block whose keys do not reach it. */
export interface UnheardBlock {
  readonly name: string;
  readonly bindings: Bindings;
}

/**
 * Says so where a key of the running block was pressed while its view did not have the keyboard, and its letter went
 * into a file. Once until the view has the keyboard again: a person may be writing on purpose.
 */
export class StrayKeys extends Disposable {
  private readonly unheard: () => UnheardBlock | undefined;
  private readonly goBack: () => void;
  private readonly listener: Disposable;
  private told = false;
  private lastLetterAt = 0;

  /**
   * @param unheard the block that counts while its keys go elsewhere; undefined where there is none
   * @param goBack brings its view to the front
   */
  constructor(unheard: () => UnheardBlock | undefined, goBack: () => void) {
    super(() => {
      this.listener.dispose();
    });
    this.unheard = unheard;
    this.goBack = goBack;
    this.listener = workspace.onDidChangeTextDocument((event) => void this.look(event, Date.now()));
  }

  /** To be called when the keys reach the block again. */
  heard(): void {
    this.told = false;
  }

  private async look(event: TextDocumentChangeEvent, now: number): Promise<void> {
    const letter = typedLetter(event);
    if (letter === undefined) return;
    const within = now - this.lastLetterAt < wordPauseMs;
    this.lastLetterAt = now;
    const block = this.unheard();
    if (!block || this.told || within || !isKeyOf(block.bindings, letter)) return;
    this.told = true;
    const back = l10n.t('Back to the Block');
    const file = event.document.uri.path.split('/').at(-1) ?? '';
    const answer = await showWarning(
      l10n.t(
        '“{0}” went into {1}: the block of {2} runs, but its keys do not reach it.',
        letter,
        file,
        block.name,
      ),
      back,
    );
    if (answer === back) this.goBack();
  }
}

/** The one letter that was typed into the text in front; undefined where something else changed. */
function typedLetter({ document, contentChanges, reason }: TextDocumentChangeEvent): string | undefined {
  const [change, ...others] = contentChanges;
  if (!change || others.length > 0 || reason !== undefined || change.rangeLength > 0) return undefined;
  return document === window.activeTextEditor?.document && change.text.length === 1 ? change.text : undefined;
}

/** Whether a key of the block writes this letter. Keys that write none, such as Backspace, change a text in other ways. */
function isKeyOf({ keys }: Bindings, letter: string): boolean {
  return Object.values(keys).some(({ name }) => name.toLowerCase() === letter.toLowerCase());
}

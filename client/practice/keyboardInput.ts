import {
  practiceActions,
  type Bindings,
  type BoundKey,
  type PracticeAction,
} from '../../server/src/protocol/practice/bindings.ts';

/** What keys are for at the moment. */
export interface KeyboardInputOptions {
  readonly bindings: () => Bindings;
  readonly act: (action: PracticeAction) => void;
  /** A key was pressed while one was asked for; null: Escape, so none. */
  readonly chosen: (key: BoundKey | null) => void;
}

/** Keys that change what another key means, and are none themselves. */
const modifiers: ReadonlySet<string> = new Set([
  'Shift',
  'Control',
  'Alt',
  'Meta',
  'AltGraph',
  'CapsLock',
  'Fn',
]);

/**
 * Keys of the view, taken at the document before anything in the page or the editor around it sees them: a pedal that
 * sends F5 must not start the debugger. A key held down is one press, whether or not its system says so.
 */
export class KeyboardInput {
  private readonly options: KeyboardInputOptions;
  private readonly held = new Set<string>();
  private asked = false;

  constructor(use: KeyboardInputOptions) {
    this.options = use;
    document.addEventListener('keydown', (event) => this.down(event), { capture: true });
    document.addEventListener('keyup', (event) => this.up(event), { capture: true });
    // What is let go of elsewhere is never heard of here.
    window.addEventListener('blur', () => this.held.clear());
  }

  /** The next key is to be told to `chosen`. */
  ask(): void {
    this.asked = true;
  }

  /** No key is waited for any more. */
  stopAsking(): void {
    this.asked = false;
  }

  private down(event: KeyboardEvent): void {
    if (this.asked) {
      consumeEvent(event);
      if (event.repeat || modifiers.has(event.key)) return;
      this.asked = false;
      this.held.add(event.code);
      this.options.chosen(event.key === 'Escape' ? null : { code: event.code, name: keyName(event) });
      return;
    }
    const action = this.actionOf(event);
    if (action === undefined) return;
    consumeEvent(event);
    if (event.repeat || this.held.has(event.code)) return;
    this.held.add(event.code);
    this.options.act(action);
  }

  private up(event: KeyboardEvent): void {
    this.held.delete(event.code);
    if (this.actionOf(event) !== undefined) consumeEvent(event);
  }

  private actionOf({ code, ctrlKey, metaKey, altKey, target }: KeyboardEvent): PracticeAction | undefined {
    // With one of these it is a command of the editor; in a field it is what somebody types.
    if (ctrlKey || metaKey || altKey || target instanceof HTMLInputElement) return undefined;
    const { keys } = this.options.bindings();
    return practiceActions.find((one) => keys[one].code === code);
  }
}

function consumeEvent(event: KeyboardEvent): void {
  event.preventDefault();
  event.stopPropagation();
}

/** A key as people call it. */
function keyName({ key, code }: KeyboardEvent): string {
  if (key === ' ') return 'Space';
  if (/^Numpad/.test(code)) return code.replace('Numpad', 'Numpad ');
  return key.length === 1 ? key.toUpperCase() : key;
}

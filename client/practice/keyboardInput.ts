import {
  practiceActions,
  type Bindings,
  type BoundKey,
  type PracticeAction,
} from '../../server/src/protocol/practice/bindings.ts';

/** What the keyboard input needs to know, and what it calls. */
export interface KeyboardInputOptions {
  readonly bindings: () => Bindings;
  readonly act: (action: PracticeAction) => void;
  /** Called with the key that was pressed while the page waited for a new one; null where that was Escape. */
  readonly chosen: (key: BoundKey | null) => void;
}

/** Keys that only modify other keys, and so cannot be bound. */
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
 * Keys of the view. They are handled at the document, before any element of the page or the editor around it receives
 * them: a pedal that sends F5 must not start the debugger. A key held down is one press, even where the system does not
 * mark its repeats.
 */
export class KeyboardInput {
  private readonly options: KeyboardInputOptions;
  private readonly held = new Set<string>();
  private isAsking = false;

  constructor(use: KeyboardInputOptions) {
    this.options = use;
    document.addEventListener('keydown', (event) => this.down(event), { capture: true });
    document.addEventListener('keyup', (event) => this.up(event), { capture: true });
    // The release of a key while another window has the focus is not reported here.
    window.addEventListener('blur', () => this.held.clear());
  }

  /** Passes the next key to `chosen`. */
  ask(): void {
    this.isAsking = true;
  }

  /** Stops waiting for a key. */
  stopAsking(): void {
    this.isAsking = false;
  }

  private down(event: KeyboardEvent): void {
    if (this.isAsking) {
      consumeEvent(event);
      if (event.repeat || modifiers.has(event.key)) return;
      this.isAsking = false;
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
    // With one of these keys held, it is a command of the editor; in a field, it is text that a person types.
    if (ctrlKey || metaKey || altKey || target instanceof HTMLInputElement) return undefined;
    const { keys } = this.options.bindings();
    return practiceActions.find((one) => keys[one].code === code);
  }
}

function consumeEvent(event: KeyboardEvent): void {
  event.preventDefault();
  event.stopPropagation();
}

/** The name of a key for people. */
function keyName({ key, code }: KeyboardEvent): string {
  if (key === ' ') return 'Space';
  if (/^Numpad/.test(code)) return code.replace('Numpad', 'Numpad ');
  return key.length === 1 ? key.toUpperCase() : key;
}

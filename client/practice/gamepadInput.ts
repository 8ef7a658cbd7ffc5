import {
  practiceActions,
  type Bindings,
  type BoundButton,
  type PracticeAction,
} from '../../server/src/protocol/practice/bindings.ts';

export interface GamepadInputOptions {
  readonly bindings: () => Bindings;
  readonly act: (action: PracticeAction) => void;
  /** Called with the button that was pressed while the page waited for a new one. */
  readonly chosen: (button: BoundButton) => void;
}

/**
 * Buttons of a gamepad. A button does nothing until the person has bound it: otherwise the gamepad that plays the game
 * would log attempts. Gamepads are read only while a button is bound or waited for.
 */
export class GamepadInput {
  private readonly options: GamepadInputOptions;
  private isAsking = false;
  private looking = false;
  private pressed = new Set<string>();

  constructor(use: GamepadInputOptions) {
    this.options = use;
  }

  ask(): void {
    this.isAsking = true;
    this.watch();
  }

  stopAsking(): void {
    this.isAsking = false;
  }

  /** To be called after buttons were bound. */
  watch(): void {
    if (this.looking || !this.wanted()) return;
    this.looking = true;
    // A button that is held down already is not a new press.
    this.pressed = new Set(pressedButtons().map(({ name }) => name));
    requestAnimationFrame(() => this.poll());
  }

  private wanted(): boolean {
    const { pad } = this.options.bindings();
    return this.isAsking || practiceActions.some((one) => pad[one] !== null);
  }

  private poll(): void {
    if (!this.wanted()) {
      this.looking = false;
      return;
    }
    const now = pressedButtons();
    for (const { name, bound } of now) if (!this.pressed.has(name)) this.press(bound);
    this.pressed = new Set(now.map(({ name }) => name));
    requestAnimationFrame(() => this.poll());
  }

  private press(button: BoundButton): void {
    if (this.isAsking) {
      this.isAsking = false;
      this.options.chosen(button);
      return;
    }
    const { pad } = this.options.bindings();
    const action = practiceActions.find(
      (one) => pad[one]?.button === button.button && pad[one].pad === button.pad,
    );
    if (action !== undefined) this.options.act(action);
  }
}

function pressedButtons(): { readonly name: string; readonly bound: BoundButton }[] {
  return navigator
    .getGamepads()
    .flatMap((pad) =>
      (pad?.buttons ?? []).flatMap(({ pressed }, button) =>
        pressed && pad ? [{ name: `${pad.index} ${button}`, bound: { pad: pad.id, button } }] : [],
      ),
    );
}

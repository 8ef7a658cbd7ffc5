import {
  practiceActions,
  type Bindings,
  type BoundButton,
  type BoundKey,
  type PracticeAction,
} from '../../server/src/protocol/practice.ts';
import { place, say } from './elements.ts';

const doings: Readonly<Record<PracticeAction, string>> = {
  landed: 'Landed',
  missed: 'Missed',
  back: 'Take back',
  end: 'End the block',
};

export interface BindingUse {
  readonly bindings: () => Bindings;
  readonly bind: (bindings: Bindings) => void;
  readonly askKey: (asks: boolean) => void;
  readonly askButton: (asks: boolean) => void;
}

interface Asked {
  readonly action: PracticeAction;
  readonly what: 'key' | 'button';
}

/** The list of keys and gamepad buttons, each of which can be chosen anew by pressing another. */
export class BindingList {
  private readonly use: BindingUse;
  private asked: Asked | undefined;

  constructor(use: BindingUse) {
    this.use = use;
    for (const action of practiceActions) {
      const row = document.createElement('tr');
      const head = document.createElement('th');
      head.scope = 'row';
      head.textContent = doings[action];
      row.append(head, this.cell(`key-${action}`, { action, what: 'key' }), this.padCell(action));
      place('binding-rows').append(row);
    }
  }

  show(): void {
    const { keys, pad } = this.use.bindings();
    for (const action of practiceActions) {
      const waits = (what: Asked['what']): boolean =>
        this.asked?.action === action && this.asked.what === what;
      const key = waits('key') ? 'Press a key…' : keys[action].name;
      this.label(`key-${action}`, key, `${doings[action]}: key ${keys[action].name}. Choose another`);
      const button = pad[action] === null ? 'Off' : `Button ${pad[action].button + 1}`;
      this.label(
        `pad-${action}`,
        waits('button') ? 'Press a button…' : button,
        `${doings[action]}: gamepad ${button}. Choose by pressing`,
      );
      place(`off-${action}`).hidden = pad[action] === null;
    }
  }

  keyChosen(key: BoundKey | null): void {
    const action = this.asked?.action;
    this.stop();
    const { keys, ...rest } = this.use.bindings();
    const other = practiceActions.find((one) => one !== action && keys[one].code === key?.code);
    if (key && action && other) say('binding-said', `${key.name} is the key for “${doings[other]}” already.`);
    else if (key && action) {
      say('binding-said', `${doings[action]} is ${key.name} now.`);
      this.use.bind({ ...rest, keys: { ...keys, [action]: key } });
    }
    this.show();
  }

  buttonChosen(button: BoundButton): void {
    const action = this.asked?.action;
    this.stop();
    const { pad, ...rest } = this.use.bindings();
    const other = practiceActions.find(
      (one) => one !== action && pad[one]?.button === button.button && pad[one].pad === button.pad,
    );
    const name = `Button ${button.button + 1}`;
    if (action && other) say('binding-said', `${name} is for “${doings[other]}” already.`);
    else if (action) {
      say(
        'binding-said',
        `${doings[action]} is ${name} of the gamepad now. It counts whenever it is pressed.`,
      );
      this.use.bind({ ...rest, pad: { ...pad, [action]: button } });
    }
    this.show();
  }

  private ask(asked: Asked): void {
    const again = this.asked?.action === asked.action && this.asked.what === asked.what;
    this.stop();
    if (!again) {
      this.asked = asked;
      if (asked.what === 'key') this.use.askKey(true);
      else this.use.askButton(true);
      say(
        'binding-said',
        asked.what === 'key'
          ? 'Escape leaves it as it is.'
          : 'Press the button on the gamepad; click again to leave it.',
      );
    }
    this.show();
  }

  private stop(): void {
    this.asked = undefined;
    this.use.askKey(false);
    this.use.askButton(false);
    say('binding-said', '');
  }

  private cell(id: string, asked: Asked): HTMLTableCellElement {
    const cell = document.createElement('td');
    const button = document.createElement('button');
    button.type = 'button';
    button.id = id;
    button.addEventListener('click', () => this.ask(asked));
    cell.append(button);
    return cell;
  }

  private padCell(action: PracticeAction): HTMLTableCellElement {
    const cell = this.cell(`pad-${action}`, { action, what: 'button' });
    const off = document.createElement('button');
    off.type = 'button';
    off.id = `off-${action}`;
    off.textContent = 'Turn off';
    off.setAttribute('aria-label', `${doings[action]}: turn the gamepad button off`);
    off.addEventListener('click', () => {
      this.stop();
      const { pad, ...rest } = this.use.bindings();
      this.use.bind({ ...rest, pad: { ...pad, [action]: null } });
      this.show();
    });
    cell.append(' ', off);
    return cell;
  }

  private label(id: string, text: string, label: string): void {
    say(id, text);
    place(id).setAttribute('aria-label', label);
  }
}

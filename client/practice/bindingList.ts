import {
  practiceActions,
  type Bindings,
  type BoundButton,
  type BoundKey,
  type PracticeAction,
} from '../../server/src/protocol/practice/bindings.ts';
import { elementById, setText } from './elements.ts';

const actionLabels: Readonly<Record<PracticeAction, string>> = {
  landed: 'Landed',
  missed: 'Missed',
  back: 'Take back',
  end: 'End the block',
};

export interface BindingListOptions {
  readonly bindings: () => Bindings;
  readonly bind: (bindings: Bindings) => void;
  readonly askKey: (asks: boolean) => void;
  readonly askButton: (asks: boolean) => void;
}

interface BindingRequest {
  readonly action: PracticeAction;
  readonly what: 'key' | 'button';
}

/** The list of keys and gamepad buttons. Each can be changed by pressing another one. */
export class BindingList {
  private readonly options: BindingListOptions;
  private pendingRequest: BindingRequest | undefined;

  constructor(use: BindingListOptions) {
    this.options = use;
    for (const action of practiceActions) {
      const row = document.createElement('tr');
      const head = document.createElement('th');
      head.scope = 'row';
      head.textContent = actionLabels[action];
      row.append(head, this.cell(`key-${action}`, { action, what: 'key' }), this.padCell(action));
      elementById('binding-rows').append(row);
    }
  }

  show(): void {
    const { keys, pad } = this.options.bindings();
    for (const action of practiceActions) {
      const waits = (what: BindingRequest['what']): boolean =>
        this.pendingRequest?.action === action && this.pendingRequest.what === what;
      const key = waits('key') ? 'Press a key…' : keys[action].name;
      this.label(`key-${action}`, key, `${actionLabels[action]}: key ${keys[action].name}. Choose another`);
      const button = pad[action] === null ? 'Off' : `Button ${pad[action].button + 1}`;
      this.label(
        `pad-${action}`,
        waits('button') ? 'Press a button…' : button,
        `${actionLabels[action]}: gamepad ${button}. Choose by pressing`,
      );
      elementById(`off-${action}`).hidden = pad[action] === null;
    }
  }

  keyChosen(key: BoundKey | null): void {
    const action = this.pendingRequest?.action;
    this.stop();
    const { keys, ...rest } = this.options.bindings();
    const other = practiceActions.find((one) => one !== action && keys[one].code === key?.code);
    if (key && action && other)
      setText('binding-said', `${key.name} is the key for “${actionLabels[other]}” already.`);
    else if (key && action) {
      setText('binding-said', `${actionLabels[action]} is ${key.name} now.`);
      this.options.bind({ ...rest, keys: { ...keys, [action]: key } });
    }
    this.show();
  }

  buttonChosen(button: BoundButton): void {
    const action = this.pendingRequest?.action;
    this.stop();
    const { pad, ...rest } = this.options.bindings();
    const other = practiceActions.find(
      (one) => one !== action && pad[one]?.button === button.button && pad[one].pad === button.pad,
    );
    const name = `Button ${button.button + 1}`;
    if (action && other) setText('binding-said', `${name} is for “${actionLabels[other]}” already.`);
    else if (action) {
      setText(
        'binding-said',
        `${actionLabels[action]} is ${name} of the gamepad now. It counts whenever it is pressed.`,
      );
      this.options.bind({ ...rest, pad: { ...pad, [action]: button } });
    }
    this.show();
  }

  private ask(request: BindingRequest): void {
    const again = this.pendingRequest?.action === request.action && this.pendingRequest.what === request.what;
    this.stop();
    if (!again) {
      this.pendingRequest = request;
      if (request.what === 'key') this.options.askKey(true);
      else this.options.askButton(true);
      setText(
        'binding-said',
        request.what === 'key'
          ? 'Escape leaves it as it is.'
          : 'Press the button on the gamepad; click again to leave it as it is.',
      );
    }
    this.show();
  }

  private stop(): void {
    this.pendingRequest = undefined;
    this.options.askKey(false);
    this.options.askButton(false);
    setText('binding-said', '');
  }

  private cell(id: string, request: BindingRequest): HTMLTableCellElement {
    const cell = document.createElement('td');
    const button = document.createElement('button');
    button.type = 'button';
    button.id = id;
    button.addEventListener('click', () => this.ask(request));
    cell.append(button);
    return cell;
  }

  private padCell(action: PracticeAction): HTMLTableCellElement {
    const cell = this.cell(`pad-${action}`, { action, what: 'button' });
    const off = document.createElement('button');
    off.type = 'button';
    off.id = `off-${action}`;
    off.textContent = 'Turn off';
    off.setAttribute('aria-label', `${actionLabels[action]}: turn the gamepad button off`);
    off.addEventListener('click', () => {
      this.stop();
      const { pad, ...rest } = this.options.bindings();
      this.options.bind({ ...rest, pad: { ...pad, [action]: null } });
      this.show();
    });
    cell.append(' ', off);
    return cell;
  }

  private label(id: string, text: string, label: string): void {
    setText(id, text);
    elementById(id).setAttribute('aria-label', label);
  }
}

/** Notes in the pages of the editor when something is first to be seen. Times are of the machine's clock, in milliseconds. */
import type { Frame, Page } from 'playwright-core';

/** Milliseconds between two looks at a page. */
const STEP_MS = 8;
/** Milliseconds after which nothing is waited for any more. */
const LIMIT_MS = 180_000;

/** What is waited for in a page: elements by a selector, of which one has a text that fits. */
export interface Sight {
  readonly selector: string;
  /** A regular expression; left out: any text. */
  readonly text?: string;
}

/** In a page: when each sight was first seen, when a key was last pressed, when the watched part last changed. */
interface Seen {
  readonly first: Readonly<Record<string, number>>;
  readonly key: number;
  readonly change: number;
}

/**
 * Watches every page and frame that is loaded from now on, every {@link STEP_MS}.
 *
 * @param sights what to look for, by names
 * @param changing the part of a page whose changes are noted
 */
export async function watch(
  page: Page,
  sights: Readonly<Record<string, Sight>>,
  changing: string,
): Promise<void> {
  await page.addInitScript(`(() => {
    const sights = ${JSON.stringify(sights)};
    const seen = (window.benchSeen = { first: {}, key: 0, change: 0 });
    addEventListener('keydown', () => (seen.key = Date.now()), true);
    let part = null;
    const look = () => {
      for (const [name, { selector, text }] of Object.entries(sights)) {
        if (seen.first[name]) continue;
        const fits = text === undefined ? null : new RegExp(text);
        for (const one of document.querySelectorAll(selector)) {
          if (one.getClientRects().length === 0 || (fits && !fits.test(one.textContent))) continue;
          seen.first[name] = Date.now();
          break;
        }
      }
      const now = document.querySelector(${JSON.stringify(changing)});
      if (now && now !== part) {
        part = now;
        seen.change = Date.now();
        new MutationObserver(() => (seen.change = Date.now()))
          .observe(part, { subtree: true, childList: true, characterData: true });
      }
    };
    // Not by animation frames: those of a page of an extension end where the editor writes into it.
    setInterval(look, ${STEP_MS});
  })()`);
}

/** What a page has seen so far; nothing where it is gone or not yet watched. */
async function seenIn(frame: Frame): Promise<Seen | undefined> {
  return frame.evaluate<Seen | undefined>('window.benchSeen').catch(() => undefined);
}

/** Waits until a sight was seen in any frame, and gives that time and the frame. */
export async function whenSeen(
  page: Page,
  name: string,
  limit = LIMIT_MS,
): Promise<{ at: number; frame: Frame }> {
  const end = Date.now() + limit;
  while (Date.now() < end) {
    for (const frame of page.frames()) {
      const at = (await seenIn(frame))?.first[name];
      if (at !== undefined) return { at, frame };
    }
    await page.waitForTimeout(100);
  }
  throw new Error(`Nothing was seen of: ${name}.`);
}

/** Lets a sight of the window itself be seen anew. */
export async function forget(page: Page, name: string): Promise<void> {
  await page.evaluate(`delete window.benchSeen.first[${JSON.stringify(name)}]`);
}

/** When the last key was pressed in the window itself. */
export async function lastKey(page: Page): Promise<number> {
  return (await seenIn(page.mainFrame()))?.key ?? NaN;
}

/** When the watched part of a page last changed; waits until it has changed since a time and then rests. */
export async function lastChange(frame: Frame, since: number, limit = LIMIT_MS): Promise<number> {
  const end = Date.now() + limit;
  while (Date.now() < end) {
    const change = (await seenIn(frame))?.change ?? 0;
    if (change > since && Date.now() - change > 600) return change;
    await frame.page().waitForTimeout(50);
  }
  throw new Error('The page did not change.');
}

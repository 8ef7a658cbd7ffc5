import { Disposable, workspace } from 'vscode';
import { Timer } from '../editor/timer.ts';

/** Milliseconds between two readings of the clock. */
const pollIntervalMs = 60_000;
/**
 * The time is sent in steps of so many minutes: the start of the runner's day is written in quarters of an hour at the
 * finest.
 */
const stepMinutes = 15;

/**
 * The runner's date: what the settings fix (a date, or `last` for the day after the last log entry), or the date and the
 * quarter of an hour by this computer's clock.
 */
export function runnersToday(now = new Date()): string {
  const fixed = workspace.getConfiguration('routewright').get<string>('today')?.trim();
  if (fixed) return fixed;
  const two = (value: number): string => String(value).padStart(2, '0');
  const date = [now.getFullYear(), two(now.getMonth() + 1), two(now.getDate())].join('-');
  return `${date}T${two(now.getHours())}:${two(now.getMinutes() - (now.getMinutes() % stepMinutes))}`;
}

/** Passes the date to `tell` whenever the clock or the settings change it. */
export function watchToday(tell: (today: string) => Promise<void>): Disposable {
  let lastSent = runnersToday();
  const sendIfChanged = (): void => {
    const today = runnersToday();
    if (today === lastSent) return;
    lastSent = today;
    void tell(today);
  };
  const timer = new Timer();
  timer.repeat(pollIntervalMs, sendIfChanged);
  return Disposable.from(
    timer,
    workspace.onDidChangeConfiguration((event) => {
      if (event.affectsConfiguration('routewright.today')) sendIfChanged();
    }),
  );
}

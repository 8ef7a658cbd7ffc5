import { formatDate } from '../../text/calendar.ts';
import type { LearningState } from '../../model/core/types.ts';
import type { Tick } from '../../protocol/panel.ts';
import { stateLabels } from '../../queries/techniqueStates.ts';
import { sanitizeForTerminal } from '../../text/terminalText.ts';

/** What a panel has to know of a route to speak of it. */
export interface PanelNames {
  /** Names by id. */
  readonly techniques: ReadonlyMap<string, string>;
  readonly segments: ReadonlyMap<string, string>;
  readonly states: ReadonlyMap<string, LearningState>;
  readonly pinned: ReadonlySet<string>;
  readonly leftOut: ReadonlySet<string>;
}

/** A technique with what the week file and the logs say of it. */
export function techniqueInfo(names: PanelNames, technique: string) {
  const state = names.states.get(technique) ?? 'unlearned';
  const pinned = names.pinned.has(technique);
  const leftOut = names.leftOut.has(technique);
  const extra =
    pinned && leftOut ? ', pinned and left out' : pinned ? ', pinned' : leftOut ? ', left out' : '';
  return {
    technique,
    name: sanitizeForTerminal(names.techniques.get(technique) ?? technique),
    state,
    stateText: stateLabels[state] + extra,
    pinned,
    leftOut,
  };
}

export function segmentName(names: PanelNames, segment: string): string {
  return sanitizeForTerminal(names.segments.get(segment) ?? segment);
}

const weekdays = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** `23 Nov` of a day number. */
export function shortDay(day: number): string {
  const date = formatDate(day);
  return `${Number(date.slice(8))} ${months[Number(date.slice(5, 7)) - 1] ?? ''}`;
}

/** `Mon 23 Nov` of a day number. */
export function dayName(day: number): string {
  return `${weekdays[(((day + 4) % 7) + 7) % 7]!} ${shortDay(day)}`;
}

/** Lengths of a step between two ticks of days. */
const daySteps = [1, 2, 7, 14, 28, 56, 91, 182, 364, 728, 1820, 3640];

/** Days named along an axis: at most eight, from the first to the last. */
export function dayTicks(from: number, to: number): Tick[] {
  const step = daySteps.find((one) => (to - from) / one <= 8) ?? 7280;
  const ticks: Tick[] = [];
  for (let at = to - Math.floor((to - from) / step) * step; at <= to; at += step) {
    ticks.push({ at, label: shortDay(at) });
  }
  return ticks;
}

/** Round numbers along an axis, at most seven, that lie within two bounds. */
export function numberTicks(from: number, to: number, label: (value: number) => string): Tick[] {
  const width = to - from;
  if (!(width > 0) || !Number.isFinite(width)) return [];
  const power = 10 ** Math.floor(Math.log10(width / 5));
  const step = [1, 2, 5, 10].map((one) => one * power).find((one) => width / one <= 6) ?? 10 * power;
  const ticks: Tick[] = [];
  for (let i = Math.ceil(from / step); i * step <= to + 1e-9 * step; i++) {
    ticks.push({ at: i * step, label: label(i * step) });
  }
  return ticks;
}

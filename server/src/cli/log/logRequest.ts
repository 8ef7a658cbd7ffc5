import { isId } from '../../files/schema/ids.ts';
import { parseMoment } from '../../text/calendar.ts';
import type { BlockNumbers } from '../../logging/readBlock.ts';
import type { WritingProblem } from '../../logging/logVocabulary.ts';
import type { Request } from '../terminal/arguments.ts';
import type { Places } from './logTarget.ts';

/** What to log. */
export type LogAction =
  | { readonly kind: 'attempt'; readonly landed: boolean }
  | { readonly kind: 'start' }
  | { readonly kind: 'end'; readonly counts: readonly [number, number] | undefined }
  | { readonly kind: 'undo' }
  | { readonly kind: 'flush' }
  | { readonly kind: 'block'; readonly numbers: BlockNumbers }
  | { readonly kind: 'run' }
  | { readonly kind: 'import'; readonly file: string }
  | { readonly kind: 'moved'; readonly from: string };

export interface LogRequest {
  readonly action: LogAction;
  /** Its id or its name, as written. */
  readonly technique: string | undefined;
  /** File or folder, as written. */
  readonly place: string | undefined;
}

/**
 * Parses the arguments of `log`, or gives a sentence about what is wrong with them.
 *
 * @param on what words name on the disk
 */
export async function parseLogRequest(request: Request, on: Places): Promise<LogRequest | string> {
  const { paths, switches, values } = request;
  // Where no technique is expected, a single word may be a folder as well.
  const whole = switches.has('run') || values.has('import') || values.has('moved-from');
  const technique = whole
    ? undefined
    : (paths.find((path) => isId(path) && !on.holdsFiles(path)) ?? paths.find((path) => isName(path, on)));
  const to = values.get('to');
  const words = technique === undefined ? paths : paths.filter((_, at) => at !== paths.indexOf(technique));
  const places = to === undefined ? words : [...words, to];
  if (places.length > 1) return `One file or folder at a time, not ${places.length}: ${places.join(', ')}.`;
  const action = await actionOf(request, technique !== undefined);
  if (typeof action === 'string') return action;
  if ((action.kind === 'start' || action.kind === 'block') && technique === undefined)
    return 'Say which technique: routewright log TECHNIQUE, then what to log.';
  if (action.kind === 'flush' && technique !== undefined)
    return `Say what to log of ${technique}: --landed, --missed, --undo, --start, --end, --tape or --minutes.`;
  return { action, technique, place: places[0] };
}

/** Whether a word can be the name of a technique, such as "Pendulum skip": it is no path, and nothing that is there. */
function isName(word: string, { exists }: Places): boolean {
  return !/[\\/]|\.[a-z]{1,5}$/i.test(word) && word !== '.' && word !== '..' && !exists(word);
}

const actions = ['landed', 'missed', 'undo', 'start', 'end', 'tape', 'run', 'import', 'moved-from'];

/** Options that say nothing without another. */
const belongsTo = {
  total: 'run',
  times: 'run',
  tried: 'run',
  ended: 'run',
  columns: 'import',
  dates: 'import',
  'dry-run': 'import',
};

async function actionOf(
  { switches, values, lists }: Pick<Request, 'switches' | 'values' | 'lists'>,
  hasTechnique: boolean,
): Promise<LogAction | string> {
  const has = (name: string) => switches.has(name) || values.has(name);
  const at = values.get('at');
  if (at !== undefined && parseMoment(at)?.minute === undefined)
    return `--at needs a date and time such as 2026-10-05T19:30, not ${at}.`;
  const chosen = actions.filter(has);
  const numbers = await blockNumbers(values);
  if ('problem' in numbers) return numbers.problem;
  const { counts, minutes } = numbers;
  const others = chosen.filter((name) => !(name === 'landed' && counts && chosen.includes('end')));
  if (others.length > 1)
    return `One thing at a time: ${others.map((name) => `--${name}`).join(' and ')} do not go together.`;
  const [first = 'nothing'] = others;
  const single = first === 'start' || first === 'end' || first === 'undo' || first === 'missed';
  if ((single || (first === 'landed' && !counts)) && (at !== undefined || minutes !== undefined))
    return 'What is logged as it happens is given no time: --at and --minutes are for a block or run logged whole.';
  const stray = Object.entries(belongsTo).find(
    ([name, to]) => to !== first && (has(name) || lists.has(name)),
  );
  if (stray) return `--${stray[0]} goes with --${stray[1]}. Nothing was logged.`;
  switch (first) {
    case 'missed':
      return { kind: 'attempt', landed: false };
    case 'undo':
    case 'start':
    case 'run':
      return { kind: first };
    case 'end':
      return { kind: 'end', counts };
    case 'import':
      return { kind: 'import', file: values.get('import')! };
    case 'moved-from':
      return { kind: 'moved', from: values.get('moved-from')! };
    case 'tape':
      return { kind: 'block', numbers };
    case 'landed':
      return counts ? { kind: 'block', numbers } : { kind: 'attempt', landed: true };
    default:
      return minutes !== undefined && hasTechnique ? { kind: 'block', numbers } : { kind: 'flush' };
  }
}

const noNumbers: BlockNumbers = {
  minutes: undefined,
  counts: undefined,
  tape: undefined,
  attempts: undefined,
};

/** The numbers of a whole block. An attempt has none of them, so the code that parses them is not loaded for it. */
async function blockNumbers(values: ReadonlyMap<string, string>): Promise<BlockNumbers | WritingProblem> {
  const [minutes, landed, tries, tape] = ['minutes', 'landed', 'tries', 'tape'].map((name) =>
    values.get(name),
  );
  if ([minutes, landed, tries, tape].every((value) => value === undefined)) return noNumbers;
  const { readBlock } = await import('../../logging/readBlock.ts');
  return readBlock({ minutes, landed, tries, tape });
}

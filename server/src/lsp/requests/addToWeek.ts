import { scalarToYaml } from '../../files/edit/flowYaml.ts';
import { addKey, setNumber } from '../../files/edit/editPath.ts';
import { readAfter } from '../../files/edit/intendedEffect.ts';
import { singleEdit, type TextEdit } from '../../files/edit/textEdit.ts';
import type { Reading } from '../../files/reading/reading.ts';
import type { FileEditResult } from '../../protocol/fileEdit.ts';
import type { AddToWeekParams } from '../../protocol/messages/week.ts';
import { isRefusal } from '../../protocol/refusal.ts';
import { readRunTime } from '../../protocol/runLog/writtenTimes.ts';
import { minutesPerDay } from '../../text/calendar.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { fileName, normalUri } from '../documents/uris.ts';
import { fileEdit } from '../documents/workspaceEdit.ts';
import { resolveProject } from './resolveProject.ts';
import { newWeekFile } from './weekFile.ts';

const weekdays = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
/** The keys that new ones go behind. */
const headKeys = ['target', 'runner', 'route'] as const;

/** The edit that writes minutes for each day, or a target, into the week file; it creates one where there is none. */
export function addToWeekHandler(needs: FileServices): (params: AddToWeekParams) => Promise<FileEditResult> {
  return (params) => addToWeek(needs, params);
}

async function addToWeek(needs: FileServices, { uri, what, text }: AddToWeekParams): Promise<FileEditResult> {
  const resolved = resolveProject(needs.workspace, normalUri(uri));
  if (isRefusal(resolved)) return resolved;
  const { project, own } = resolved;
  const addition = what === 'minutes' ? minutesAddition(text.trim()) : targetAddition(text.trim());
  if ('message' in addition) return addition;
  const { line, done } = addition;
  if (!own.week) return newWeekFile(needs, project, own, [line], (file) => `${file} is created: ${done}.`);
  const { uri: week, reading } = own.week;
  const edit = addition.edit(reading);
  if (!edit)
    return {
      message: `${fileName(week)} is written in a way that no safe edit fits. Write ${line} by hand.`,
    };
  return { edit: fileEdit(needs, week, [edit]), message: `In ${fileName(week)}: ${done}.` };
}

interface Addition {
  /** The whole of it on one line, for a new file and for a person. */
  readonly line: string;
  readonly done: string;
  readonly edit: (reading: Reading) => TextEdit | undefined;
}

function minutesAddition(text: string): Addition | { readonly message: string } {
  const minutes = /^\d{1,4}$/.test(text) ? Number(text) : 0;
  if (minutes < 1 || minutes > minutesPerDay)
    return {
      message: `Minutes are a whole number such as 60, at most ${minutesPerDay}, not ${text || 'nothing'}.`,
    };
  return {
    line: `days: { ${weekdays.map((day) => `${day}: ${minutes}`).join(', ')} }`,
    done: `${minutes} minutes of practice on each day; change the days there`,
    edit: (reading) => {
      let after: Reading | undefined = reading;
      for (const day of weekdays) {
        const edit: TextEdit | undefined =
          after && setNumber(after, ['days'], day, minutes, { afterKeys: headKeys, after: [] });
        after = after && edit && readAfter(after, [edit]);
      }
      return after && singleEdit(reading.text, after.text);
    },
  };
}

function targetAddition(text: string): Addition | { readonly message: string } {
  if (readRunTime(text) === undefined)
    return { message: `A target is a time such as 41:30, not ${text || 'nothing'}.` };
  const written = scalarToYaml(text);
  return {
    line: `target: ${written}`,
    done: `${text} is the time to beat`,
    edit: (reading) => addKey(reading, [], 'target', written, ['runner', 'route']),
  };
}

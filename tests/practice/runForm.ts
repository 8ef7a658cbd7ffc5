import { runPage } from '../../client/src/practice/runPage.ts';
import { runPageMessageShape, type RunPageMessage } from '../../server/src/protocol/runLog/pageMessages.ts';
import { emptyDraft, type RunDraft } from '../../server/src/protocol/runLog/runDraft.ts';
import { runLogVersion, type RunForm } from '../../server/src/protocol/runLog/runForm.ts';
import type { Started } from '../panel/page.ts';
import { bundlePage, openPage, type Bundled, type OpenPage, type PageOptions } from './page.ts';

/** The script and the style of the page of a run. */
export const bundleRun = (): Promise<Bundled> =>
  bundlePage('client/practice/run/main.ts', 'client/practice/run/run.css');

/** A route of four segments with five techniques. */
export const form: RunForm = {
  version: runLogVersion,
  uri: 'file:///w/lanternfall.runs.yaml',
  route: 'Lanternfall, any%',
  today: '2026-11-25',
  segments: [
    { id: 'harbor', name: 'Harbor', usual: 85.4, fastest: 70, longest: 360 },
    { id: 'rope-yard', name: 'Rope yard', usual: 119, fastest: 100, longest: 480 },
    { id: 'fish-market', name: 'Fish market', usual: 163.2, fastest: 140, longest: 640 },
    { id: 'oil-cellars', name: 'Oil cellars below the chandlers', usual: 114, fastest: 95, longest: 460 },
  ],
  uses: [
    useOf('harbor', 'crate-vault', 'Crate vault', true),
    useOf('harbor', 'gate-roll', 'Gate roll', true),
    useOf('rope-yard', 'rope-swing', 'Rope swing', true),
    useOf('fish-market', 'awning-bounce', 'Awning bounce', false),
    useOf('oil-cellars', 'crate-vault', 'Crate vault', true),
  ],
};

function useOf(segment: string, use: string, name: string, tried: boolean) {
  return { key: `${segment} ${use}`, use, technique: use, name, segment, tried };
}

/** The page of a run that is open, and what it said. */
export interface OpenForm extends OpenPage {
  readonly said: () => Promise<RunPageMessage[]>;
  readonly last: () => Promise<RunPageMessage | undefined>;
}

/** Opens the page of a run with a form. */
export async function openRunForm(
  started: Started<Bundled>,
  draft: RunDraft | null = null,
  options: PageOptions = {},
  shown = form,
): Promise<OpenForm> {
  const opened = await openPage(started, runPage, options);
  await opened.tell({ type: 'show', file: 'file:///w/lanternfall.route.yaml', form: shown, draft });
  const said = async (): Promise<RunPageMessage[]> =>
    (await opened.said()).map((message) => {
      if (!runPageMessageShape.fits(message)) throw new Error(JSON.stringify(message));
      return message;
    });
  return { ...opened, said, last: async () => (await said()).at(-1) };
}

/** What is filled in when the page opens. */
export const draftOf = (part: Partial<RunDraft>): RunDraft => ({ ...emptyDraft(form), ...part });

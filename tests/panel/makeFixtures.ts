/**
 * Writes tests/panel/fixtures/*.json from the sample: what the server tells the panel for each view.
 * `npx tsx tests/panel/makeFixtures.ts`. They are kept, so that the drawings change only where the panel does.
 */
import { runToCompletion } from '../../server/src/incremental/steps.ts';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { panelData } from '../../server/src/lsp/requests/panel.ts';
import { PanelReports } from '../../server/src/lsp/estimates/panelReports.ts';
import { panelViews } from '../../server/src/protocol/panel/views.ts';
import { openEditor } from '../unit/lsp/editor.ts';
import { RouteStores } from '../../server/src/lsp/estimates/routeStore.ts';

const samples = join(import.meta.dirname, '../../samples');
const TODAY = '2026-11-16T18:00';
/** The review is for the day after the last run of the sample: its week has a slip. */
const REVIEW_DAY = '2026-11-09T18:00';

async function main(): Promise<void> {
  const names = (await readdir(samples)).filter((name) => name.endsWith('.yaml')).sort();
  const texts = await Promise.all(names.map((name) => readFile(join(samples, name), 'utf8')));
  const files = Object.fromEntries(names.map((name, i) => [name, texts[i] ?? '']));
  const uri = 'file:///w/lanternfall.route.yaml';
  for (const view of panelViews) {
    const { services } = await openEditor(files, { today: view === 'review' ? REVIEW_DAY : TODAY });
    const reports = new PanelReports(services.estimates, new RouteStores());
    const data = runToCompletion(
      panelData(
        { ...services, panelReports: reports },
        {
          uri,
          view,
          technique: 'lamp-clip',
          // A finished run with a time in every segment.
          run: '2026-11-08T16:10',
          objective: 'time',
          wait: true,
          rest: true,
        },
      ),
    );
    await writeFile(
      join(import.meta.dirname, 'fixtures', `${view}.json`),
      `${JSON.stringify(data, null, 2)}\n`,
    );
    services.checks.dispose();
  }
}

await main();

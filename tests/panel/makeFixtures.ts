/**
 * Writes tests/panel/fixtures/*.json from the sample: what the server tells the panel for each view.
 * `npx tsx tests/panel/makeFixtures.ts`. They are kept, so that the drawings change only where the panel does.
 */
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { withComparedRoute } from '../../server/src/lsp/requests/comparedRoute.ts';
import { panelHandler } from '../../server/src/lsp/requests/panel.ts';
import { PanelReports } from '../../server/src/lsp/estimates/panelReports.ts';
import { panelViews } from '../../server/src/protocol/panel/views.ts';
import { neverStopped, openEditor } from '../unit/lsp/editor.ts';
import { RouteStores } from '../../server/src/lsp/estimates/routeStore.ts';

const samples = join(import.meta.dirname, '../../samples');
const TODAY = '2026-11-16T18:00';
/** The review is for the day after the last run of the sample: its week has a slip. */
const REVIEW_DAY = '2026-11-09T18:00';

/** The route before its rope yard was made quicker. */
const FORMER = 'former.route.yaml';

async function main(): Promise<void> {
  const names = (await readdir(samples)).filter((name) => name.endsWith('.yaml')).sort();
  const texts = await Promise.all(names.map((name) => readFile(join(samples, name), 'utf8')));
  const own = Object.fromEntries(names.map((name, i) => [name, texts[i] ?? '']));
  const route = own['lanternfall.route.yaml'] ?? '';
  const former = route.replace('time: 2:08', 'time: 2:12.5').replace('time: 1:32.4', 'time: 1:31');
  const uri = 'file:///w/lanternfall.route.yaml';
  for (const view of panelViews) {
    const files = view === 'compare' ? { ...own, [FORMER]: former } : own;
    const { services } = await openEditor(files, { today: view === 'review' ? REVIEW_DAY : TODAY });
    const reports = new PanelReports(services.estimates, new RouteStores());
    const answer = withComparedRoute(
      { ...services, readRevision: () => Promise.reject(new Error('No revision is asked for.')) },
      panelHandler({ ...services, panelReports: reports }),
    );
    const data = await answer(
      {
        uri,
        view,
        technique: 'lamp-clip',
        // A finished run with a time in every segment.
        run: '2026-11-08T16:10',
        compared: { uri: `file:///w/${FORMER}` },
        objective: 'time',
        wait: true,
        rest: true,
      },
      neverStopped,
    );
    await writeFile(
      join(import.meta.dirname, 'fixtures', `${view}.json`),
      `${JSON.stringify(data, null, 2)}\n`,
    );
    services.checks.dispose();
  }
}

await main();

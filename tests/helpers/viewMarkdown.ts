import { emptySections, type Sections } from '../../server/src/lsp/requests/section.ts';
import { panelVersion } from '../../server/src/protocol/panel/views.ts';
import { panelMarkdown } from '../../server/src/reports/panel/panelMarkdown.ts';

/** The Markdown of a panel that shows these sections only. */
export function viewMarkdown(sections: Partial<Sections>): string {
  return panelMarkdown({
    version: panelVersion,
    uri: 'file:///w/a.route.yaml',
    view: 'week',
    routeUri: 'file:///w/a.route.yaml',
    route: 'Lanternfall, any%',
    asOf: '2026-11-09',
    techniques: [],
    ...emptySections,
    ...sections,
  });
}

import type { Page } from '../webview/page.ts';

/** The page of the panel: its script creates everything in it. */
export const panelPage: Page = {
  name: 'panel',
  title: 'Week and practice',
  body: '<main id="panel"></main>',
};

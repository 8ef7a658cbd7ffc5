/** Which column of editors a page or a file opens in: a page beside the text, a file beside the pages. */
import { Uri, ViewColumn, window, type Tab, type TabGroup } from 'vscode';

/** The kind of each of our pages begins with it; the editor puts words of its own before the kind. */
const ownKind = /(?:^|-)routewright\.\w+$/;

/**
 * The column for a page that is opened: that of our other pages, else the one to the right of the active column, else
 * the one to its left. A new column only where the text would be covered otherwise.
 */
export function pageColumn(): ViewColumn {
  const { all, activeTabGroup } = window.tabGroups;
  if (holdsPage(activeTabGroup) || activeTabGroup.tabs.length === 0) return activeTabGroup.viewColumn;
  const others = all.filter(({ viewColumn }) => viewColumn !== activeTabGroup.viewColumn);
  const right = others.find(({ viewColumn }) => viewColumn > activeTabGroup.viewColumn);
  return (others.find(holdsPage) ?? right ?? others.at(-1))?.viewColumn ?? ViewColumn.Beside;
}

/**
 * The column for a file that is opened: the one in which it is open, else the active one, else the first one, as far as
 * they hold no page of ours. Where every column holds one: where the file is open, else the first that holds a file too,
 * else a new one. The editor itself opens a changed file behind the page in front, so that being open is not enough.
 */
export function fileColumn(target: Uri): ViewColumn {
  const { all, activeTabGroup } = window.tabGroups;
  const inOrder = [activeTabGroup, ...all];
  const withoutPage = inOrder.filter((group) => !holdsPage(group));
  const isOpen = ({ tabs }: TabGroup): boolean => tabs.some((tab) => isOf(tab, target));
  const chosen =
    withoutPage.find(isOpen) ??
    withoutPage[0] ??
    inOrder.find(isOpen) ??
    all.find(({ tabs }) => !tabs.every(isPage));
  return chosen?.viewColumn ?? ViewColumn.Beside;
}

function holdsPage({ tabs }: TabGroup): boolean {
  return tabs.some(isPage);
}

function isPage({ input }: Tab): boolean {
  const kind =
    typeof input === 'object' && input !== null && 'viewType' in input ? input.viewType : undefined;
  return typeof kind === 'string' && ownKind.test(kind);
}

function isOf({ input }: Tab, target: Uri): boolean {
  const uri = typeof input === 'object' && input !== null && 'uri' in input ? input.uri : undefined;
  return uri instanceof Uri && uri.toString() === target.toString();
}

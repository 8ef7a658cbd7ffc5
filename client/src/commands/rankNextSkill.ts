import { l10n, QuickPickItemKind, type QuickPickItem } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  rankRequest,
  type RankLine,
  type RankResult,
  type TechniqueLine,
} from '../../../server/src/protocol/messages/rank.ts';
import { tonightRequest, type TonightResult } from '../../../server/src/protocol/messages/tonight.ts';
import { swapRequest } from '../../../server/src/protocol/messages/week.ts';
import type { TonightView } from '../../../server/src/protocol/panel/tonightView.ts';
import { isRefusal } from '../../../server/src/protocol/refusal.ts';
import { completeStep } from '../routes/firstSteps.ts';
import type { RouteChoice } from '../routes/routeChoice.ts';
import { changeWeekFile } from './changeWeekFile.ts';
import { offerTechnique } from './offerTechnique.ts';
import { showPlace } from '../editor/showFile.ts';
import { pick, withProgress } from '../editor/messages.ts';
import { reasonOf, showFailure, showRefusal } from '../editor/notices.ts';

interface TechniqueItem extends QuickPickItem {
  readonly line?: TechniqueLine;
  /**
   * Why the technique has its place in the ranking. Absent for techniques without a place, and for those of the practice
   * set.
   */
  readonly reason?: string;
  /** The swap that choosing it makes. */
  readonly swap?: TonightView['swaps'][number];
}

/** Shows which technique to learn next, opens the one chosen and offers to take it up or to start a block of it, or makes the
 * swap chosen. */
export async function rankNextSkill(
  client: BaseLanguageClient,
  routes: RouteChoice,
  calledOn?: unknown,
): Promise<void> {
  const uri = await routes.chooseWithRunner(l10n.t('A ranking needs a route.'), calledOn);
  if (uri === undefined) return;
  const found = await ranking(client, uri);
  if (!found) return;
  const { result, tonight } = found;
  if (result.message !== undefined && result.skipped.length === 0) {
    await showRefusal({ message: result.message });
    return;
  }
  completeStep('rank');
  const words = tonight === undefined || isRefusal(tonight) ? undefined : tonight.words;
  const chosen = await pick(itemsOf(result, words?.swaps ?? []), {
    title: words
      ? l10n.t('{0}: {1} Below: what to learn next in {2}', words.title, words.summary, result.route)
      : l10n.t('What to learn next in {0}', result.title),
    placeHolder:
      result.message ?? l10n.t('Expected seconds gained in a run per hour of practice (80 % range)'),
    matchOnDescription: true,
    matchOnDetail: true,
  });
  if (chosen?.swap) {
    const { technique, instead } = chosen.swap;
    return changeWeekFile(client, () => client.sendRequest(swapRequest, { uri, technique, instead }));
  }
  if (!chosen?.line) return;
  await open(chosen.line);
  // Choosing a technique without a place opens it, and nothing more is offered.
  if (chosen.reason !== undefined || chosen.line.inSet)
    await offerTechnique(client, uri, chosen.line, chosen.reason);
}

/** The ranking with what to practise tonight. */
interface Ranked {
  readonly result: RankResult;
  /** Undefined where it could not be worked out, which the person is told: the ranking is shown without it. */
  readonly tonight: TonightResult | undefined;
}

/** Undefined where the ranking did not work or was cancelled. */
async function ranking(client: BaseLanguageClient, uri: string): Promise<Ranked | undefined> {
  return withProgress(l10n.t('Ranking what to learn next'), async (token) => {
    const [result, tonight] = await Promise.all([
      client.sendRequest(rankRequest, { uri }, token).catch((error: unknown) => {
        if (token.isCancellationRequested) return undefined;
        client.error('The ranking did not work.', error, false);
        showFailure(l10n.t('The ranking did not work: {0}', reasonOf(error)));
        return undefined;
      }),
      client.sendRequest(tonightRequest, { uri }, token).catch((error: unknown) => {
        if (token.isCancellationRequested) return undefined;
        client.error('The practice of tonight got no answer.', error, false);
        showFailure(l10n.t('What to practise tonight could not be worked out: {0}', reasonOf(error)));
        return undefined;
      }),
    ]);
    return result && !token.isCancellationRequested ? { result, tonight } : undefined;
  });
}

function itemsOf({ lines, skipped }: RankResult, swaps: TonightView['swaps']): TechniqueItem[] {
  const ranked = lines.flatMap((line): TechniqueItem[] => [
    ...packageItem(line),
    {
      label: line.inPackage === true ? `└ ${line.name}` : line.name,
      description: line.gain,
      // The editor cuts a long line off and shows the whole of it when the mouse points at it.
      detail: `${line.detail} · ${line.standingText} · ${line.reason}`,
      line,
      ...(!line.inSet && { reason: line.reason }),
    },
  ]);
  const rest = skipped.map((line): TechniqueItem => ({
    label: line.name,
    detail: `${line.standingText} · ${line.reason}`,
    line,
  }));
  const offered = swaps.map((swap): TechniqueItem => ({ label: swap.title, detail: swap.text, swap }));
  return [...ranked, ...group(l10n.t('Swaps to think about'), offered), ...group(l10n.t('Not ranked'), rest)];
}

/** Items under a heading; nothing where there are none. */
function group(label: string, items: readonly TechniqueItem[]): TechniqueItem[] {
  return items.length === 0 ? [] : [{ label, kind: QuickPickItemKind.Separator }, ...items];
}

/** The line of a package, above its members. Choosing it opens the member that is practised first. */
function packageItem(line: RankLine): TechniqueItem[] {
  const { packageLine } = line;
  if (!packageLine) return [];
  const { name, gain, detail } = packageLine;
  return [{ label: name, description: gain, detail, line, ...(!line.inSet && { reason: line.reason }) }];
}

async function open({ location }: TechniqueLine): Promise<void> {
  if (location) await showPlace(location);
}

import type { CancellationToken } from 'vscode-languageserver';
import type { Project } from '../../workspace/project.ts';
import { modelFilesOf } from '../../queries/modelLimits.ts';
import { stopWhen } from '../documents/eventLoop.ts';
import type { InlineEstimates } from './inlineEstimates.ts';
import type { RouteStore, RouteStores } from './routeStore.ts';

/** The first numbers of one route while they are being computed, and the requests that wait for them. */
interface PendingEstimates {
  readonly tokens: CancellationToken[];
  /** Resolves to false where the work was stopped because no request waited any more. */
  readonly finished: Promise<boolean>;
}

/**
 * Computes the first numbers of a route as soon as a request needs them. A client that the server cannot ask to request
 * them again would otherwise show none until the next edit. Requests about one route share the work.
 */
export class FirstEstimates {
  private readonly inlineEstimates: InlineEstimates;
  private readonly pending: RouteStore<PendingEstimates>;

  constructor(inlineEstimates: InlineEstimates, routes: RouteStores) {
    this.pending = routes.create();
    this.inlineEstimates = inlineEstimates;
  }

  /**
   * Resolves once the route has numbers: at once where it has some already, even of older files. Resolves without
   * numbers where the route can have none (several runners are named, or it is too large) and where every request that waited was
   * cancelled.
   */
  async available(project: Project, token: CancellationToken): Promise<void> {
    while (!this.inlineEstimates.of(project) && !token.isCancellationRequested) {
      const pending = this.pending.get(project) ?? this.begin(project);
      pending.tokens.push(token);
      if (await pending.finished) return;
    }
  }

  private begin(project: Project): PendingEstimates {
    const tokens: CancellationToken[] = [];
    const finished = this.work(project, tokens).finally(() => this.pending.delete(project));
    const pending = { tokens, finished };
    this.pending.set(project, pending);
    return pending;
  }

  private async work(project: Project, tokens: readonly CancellationToken[]): Promise<boolean> {
    const isWanted = () => tokens.some((token) => !token.isCancellationRequested);
    const isKnown = () => this.inlineEstimates.of(project) !== undefined;
    if (!modelFilesOf(project)) return true;
    await this.inlineEstimates.update(
      project,
      stopWhen(() => !isWanted() || isKnown()),
    );
    return isKnown() || isWanted();
  }
}

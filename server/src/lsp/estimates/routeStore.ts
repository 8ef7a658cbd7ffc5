import type { Project } from '../../workspace/project.ts';
import { runnersOf } from '../../workspace/runnerFiles.ts';

/** One value for each route, kept as long as the route exists; asked about by a file of one runner, one for that runner. */
export class RouteStore<T> {
  private readonly byRoute = new Map<string, T>();

  get(project: Project): T | undefined {
    return this.byRoute.get(keyOf(project));
  }

  has(project: Project): boolean {
    return this.byRoute.has(keyOf(project));
  }

  set(project: Project, value: T): void {
    this.byRoute.set(keyOf(project), value);
  }

  /** The value of a route. Where it has none, `make` creates one, which is kept. */
  getOrMake(project: Project, make: () => T): T {
    const kept = this.get(project);
    if (kept !== undefined) return kept;
    const created = make();
    this.set(project, created);
    return created;
  }

  /** @returns whether the route had a value */
  delete(project: Project): boolean {
    return this.byRoute.delete(keyOf(project));
  }

  /** Called by {@link RouteStores} only: keeps the values with these keys and drops all others. */
  keepOnly(keys: ReadonlySet<string>): void {
    for (const key of this.byRoute.keys()) if (!keys.has(key)) this.byRoute.delete(key);
  }
}

/**
 * All stores of one client. A route that is closed, deleted or renamed is dropped from all of them at once, so that no
 * other part of the server has to do it; so is what was kept for a runner whom the route's files name no more.
 */
export class RouteStores {
  private readonly stores: Pick<RouteStore<unknown>, 'keepOnly'>[] = [];

  create<T>(): RouteStore<T> {
    const store = new RouteStore<T>();
    this.stores.push(store);
    return store;
  }

  /** Drops the values of all routes other than these. */
  keepOnly(projects: readonly Project[]): void {
    const present = new Set<string>();
    for (const project of projects)
      for (const askedRunners of [undefined, ...runnersOf(project).map((runner) => [runner])])
        present.add(keyOf({ route: project.route, askedRunners }));
    for (const store of this.stores) store.keepOnly(present);
  }
}

function keyOf({ route, askedRunners }: Pick<Project, 'route' | 'askedRunners'>): string {
  return askedRunners === undefined ? route.uri : `${route.uri} ${askedRunners.join()}`;
}

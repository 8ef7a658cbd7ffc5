import type { Project } from '../../workspace/project.ts';

/** One value for each route, kept as long as the route exists. */
export class RouteStore<T> {
  private readonly byRoute = new Map<string, T>();

  get({ route }: Project): T | undefined {
    return this.byRoute.get(route.uri);
  }

  has({ route }: Project): boolean {
    return this.byRoute.has(route.uri);
  }

  set({ route }: Project, value: T): void {
    this.byRoute.set(route.uri, value);
  }

  /** The value of a route. Where it has none, `make` creates one, which is kept. */
  getOrMake(project: Project, make: () => T): T {
    const kept = this.byRoute.get(project.route.uri);
    if (kept !== undefined) return kept;
    const created = make();
    this.set(project, created);
    return created;
  }

  /** @returns whether the route had a value */
  delete({ route }: Project): boolean {
    return this.byRoute.delete(route.uri);
  }

  /** Called by {@link RouteStores} only: keeps the values of these routes and drops all others. */
  keepOnly(uris: ReadonlySet<string>): void {
    for (const uri of this.byRoute.keys()) if (!uris.has(uri)) this.byRoute.delete(uri);
  }
}

/**
 * All stores of one client. A route that is closed, deleted or renamed is dropped from all of them at once, so that no
 * other part of the server has to do it.
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
    const present = new Set(projects.map(({ route }) => route.uri));
    for (const store of this.stores) store.keepOnly(present);
  }
}

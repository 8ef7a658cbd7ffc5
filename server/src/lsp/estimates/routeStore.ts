import type { Project } from '../../workspace/project.ts';

/** Something kept for each route until the route is gone. */
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

  /** What is kept of a route, or else what `make` gives, which is kept from now on. */
  getOrMake(project: Project, make: () => T): T {
    const known = this.byRoute.get(project.route.uri);
    if (known !== undefined) return known;
    const made = make();
    this.set(project, made);
    return made;
  }

  /** @returns whether there was anything */
  delete({ route }: Project): boolean {
    return this.byRoute.delete(route.uri);
  }

  /** Only for {@link RouteStores}: keeps what belongs to these routes. */
  keepOnly(uris: ReadonlySet<string>): void {
    for (const uri of this.byRoute.keys()) if (!uris.has(uri)) this.byRoute.delete(uri);
  }
}

/**
 * All stores of one client. A route that is closed, deleted or renamed is dropped from every one of them at once, so
 * that no part of the server has to remember to do it.
 */
export class RouteStores {
  private readonly stores: Pick<RouteStore<unknown>, 'keepOnly'>[] = [];

  create<T>(): RouteStore<T> {
    const store = new RouteStore<T>();
    this.stores.push(store);
    return store;
  }

  /** Lets go of everything that belongs to routes other than these. */
  keepOnly(projects: readonly Project[]): void {
    const present = new Set(projects.map(({ route }) => route.uri));
    for (const store of this.stores) store.keepOnly(present);
  }
}

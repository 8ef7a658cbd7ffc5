/**
 * Whether the editor shows the hints of routes. A landing rate that a hint shows is not said by the lens above it, too.
 * An editor that does not tell is taken to show none, since most have them off until they are asked for.
 */
export class RouteHints {
  private areShown = false;

  get shown(): boolean {
    return this.areShown;
  }

  /** @param shown what the client told; anything but `true` is no */
  setShown(shown: unknown): void {
    this.areShown = shown === true;
  }
}

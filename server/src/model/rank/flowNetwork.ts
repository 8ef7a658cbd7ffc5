/** Maximum flow by shortest augmenting paths in layers (Dinic 1970): exact on the small networks used here. */

/** A network under construction; nodes are 0 … count − 1. */
export class FlowNetwork {
  private readonly arcTargets: number[] = [];
  private readonly residual: number[] = [];
  private readonly arcsFrom: number[][];

  constructor(count: number) {
    this.arcsFrom = Array.from({ length: count }, () => []);
  }

  /** Adds an arc from `a` to `b`. */
  addArc(a: number, b: number, capacity: number): void {
    this.arcsFrom[a]!.push(this.arcTargets.length);
    this.arcTargets.push(b);
    this.residual.push(capacity);
    this.arcsFrom[b]!.push(this.arcTargets.length);
    this.arcTargets.push(a);
    this.residual.push(0);
  }

  /**
   * Sends the maximum flow from `source` to `sink`, then returns for each node whether it is still reachable from
   * the source: the source side of the smallest minimum cut. A remaining capacity below `tolerance` counts as zero.
   */
  minCutSourceSide(source: number, sink: number, tolerance: number): boolean[] {
    for (;;) {
      const layer = this.layers(source, tolerance);
      if (layer[sink]! < 0) return layer.map((l) => l >= 0);
      const next = new Int32Array(this.arcsFrom.length);
      while (this.augment(source, sink, Infinity, layer, next, tolerance) > 0);
    }
  }

  private layers(source: number, tolerance: number): number[] {
    const layer = new Array<number>(this.arcsFrom.length).fill(-1);
    layer[source] = 0;
    const queue = [source];
    for (const node of queue) {
      for (const arc of this.arcsFrom[node]!) {
        const to = this.arcTargets[arc]!;
        if (layer[to]! >= 0 || this.residual[arc]! <= tolerance) continue;
        layer[to] = layer[node]! + 1;
        queue.push(to);
      }
    }
    return layer;
  }

  private augment(
    node: number,
    sink: number,
    limit: number,
    layer: readonly number[],
    next: Int32Array,
    tolerance: number,
  ): number {
    if (node === sink) return limit;
    const arcs = this.arcsFrom[node]!;
    for (; next[node]! < arcs.length; next[node]!++) {
      const arc = arcs[next[node]!]!;
      const to = this.arcTargets[arc]!;
      if (this.residual[arc]! <= tolerance || layer[to] !== layer[node]! + 1) continue;
      const sent = this.augment(to, sink, Math.min(limit, this.residual[arc]!), layer, next, tolerance);
      if (sent > 0) {
        this.residual[arc]! -= sent;
        this.residual[arc ^ 1]! += sent;
        return sent;
      }
    }
    return 0;
  }
}

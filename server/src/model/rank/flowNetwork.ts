/** Maximum flow by shortest augmenting paths in layers (Dinic 1970): exact on the small networks used here. */

/** A network under construction; nodes are 0 … count − 1. */
export class Network {
  private readonly head: number[] = [];
  private readonly room: number[] = [];
  private readonly out: number[][];

  constructor(count: number) {
    this.out = Array.from({ length: count }, () => []);
  }

  /** Adds an arc from `a` to `b`. */
  arc(a: number, b: number, capacity: number): void {
    this.out[a]!.push(this.head.length);
    this.head.push(b);
    this.room.push(capacity);
    this.out[b]!.push(this.head.length);
    this.head.push(a);
    this.room.push(0);
  }

  /**
   * Sends as much as it can from `source` to `sink`, then returns which nodes are still reachable from the source:
   * the source side of a minimum cut, the smallest one. Room under `tolerance` counts as none.
   */
  sourceSide(source: number, sink: number, tolerance: number): boolean[] {
    for (;;) {
      const layer = this.layers(source, tolerance);
      if (layer[sink]! < 0) return layer.map((l) => l >= 0);
      const next = new Int32Array(this.out.length);
      while (this.push(source, sink, Infinity, layer, next, tolerance) > 0);
    }
  }

  private layers(source: number, tolerance: number): number[] {
    const layer = new Array<number>(this.out.length).fill(-1);
    layer[source] = 0;
    const queue = [source];
    for (const node of queue) {
      for (const arc of this.out[node]!) {
        const to = this.head[arc]!;
        if (layer[to]! >= 0 || this.room[arc]! <= tolerance) continue;
        layer[to] = layer[node]! + 1;
        queue.push(to);
      }
    }
    return layer;
  }

  private push(
    node: number,
    sink: number,
    limit: number,
    layer: readonly number[],
    next: Int32Array,
    tolerance: number,
  ): number {
    if (node === sink) return limit;
    const arcs = this.out[node]!;
    for (; next[node]! < arcs.length; next[node]!++) {
      const arc = arcs[next[node]!]!;
      const to = this.head[arc]!;
      if (this.room[arc]! <= tolerance || layer[to] !== layer[node]! + 1) continue;
      const sent = this.push(to, sink, Math.min(limit, this.room[arc]!), layer, next, tolerance);
      if (sent > 0) {
        this.room[arc]! -= sent;
        this.room[arc ^ 1]! += sent;
        return sent;
      }
    }
    return 0;
  }
}

import type { Random } from '../../samples/simulation/random.ts';

const first = (
  'amber anchor ash barrel beacon bell brine candle chain cinder cliff copper crate dusk ember ferry fog gable gull ' +
  'gutter harbor hoist kelp ladder lamp lantern ledge lens mast moth net oar oil pier quay raft rope salt shutter ' +
  'sluice spar stair tide tower wick winch'
).split(' ');

const moves = (
  'bounce cancel catch clip cut dash dive drop flip glide grab hop kick launch leap line pivot roll skip slide spin ' +
  'swing throw turn vault weave'
).split(' ');

const places = (
  'arcade arch bridge cellars climb court crossing docks gallery gate landing lofts market passage rooms row steps ' +
  'terrace vaults works yard'
).split(' ');

/** An id, and the name shown to people. */
export interface Naming {
  readonly id: string;
  readonly name: string;
}

/** Gives names, each one once; after all words are used, they come again with a number. */
export interface Names {
  readonly technique: () => Naming;
  readonly segment: () => Naming;
}

/** Names in random order. Techniques are named after a movement, segments after a place. */
export function createNames(random: Random): Names {
  const deal = (second: readonly string[]): (() => Naming) => {
    const pairs = shuffled(
      first.flatMap((a) => second.map((b) => [a, b] as const)),
      random,
    );
    let dealt = 0;
    return () => {
      const [a, b] = pairs[dealt % pairs.length] ?? ['lamp', 'turn'];
      const round = Math.floor(dealt / pairs.length);
      dealt += 1;
      const name = `${a[0]?.toUpperCase() ?? ''}${a.slice(1)} ${b}`;
      return round === 0
        ? { id: `${a}-${b}`, name }
        : { id: `${a}-${b}-${round + 1}`, name: `${name} ${round + 1}` };
    };
  };
  return { technique: deal(moves), segment: deal(places) };
}

function shuffled<T>(items: readonly T[], random: Random): T[] {
  const order = [...items];
  for (let i = order.length - 1; i > 0; i -= 1) {
    const j = random.whole(0, i);
    const [a, b] = [order[i], order[j]];
    if (a === undefined || b === undefined) continue;
    order[i] = b;
    order[j] = a;
  }
  return order;
}

/**
 * The practice set: the few techniques that are practised each session. It has a memory: nothing that is being
 * learned leaves it.
 */

/** The state of one technique on the morning of a session. */
export interface SetCandidate {
  readonly technique: string;
  /** Seconds of V gained per hour of practice, with the practice of its needs included. */
  readonly rate: number;
  /** Whether its landing rate in a run is above break-even with the required confidence. */
  readonly competent: boolean;
  /** Whether everything that it needs is ready, so that it can be practised today. */
  readonly open: boolean;
}

/** The input for choosing a practice set. */
export interface PracticeSetInput {
  /** In the order in which they may enter, usually best first. */
  readonly candidates: readonly SetCandidate[];
  /** Techniques that are in the set already; those longest in it first. */
  readonly currentMembers: readonly string[];
  /** Number of places. */
  readonly size: number;
}

/** A technique that left the set, and the one that replaced it; null if there were more members than places. */
export interface Departure {
  readonly technique: string;
  readonly replacedBy: string | null;
}

/**
 * A competent technique takes a free place only where it gains this many times as much an hour as every other that
 * could take it: more than the noise of the estimates, so that it does not come in for a day.
 */
const competentEntryFactor = 1.5;

/**
 * Whether a competent technique outside takes a free place. Where nobody else could take it, the place stays free:
 * runs keep up what is competent.
 *
 * @param rate its gain in seconds per hour of practice
 * @param best the greatest gain per hour of those outside that are not competent and can be practised
 */
export function competentEnters(rate: number, best: number): boolean {
  return best > 0 && rate >= competentEntryFactor * best;
}

export interface PracticeSet {
  /** The members, those longest in the set first. */
  readonly members: readonly string[];
  readonly departures: readonly Departure[];
}

/**
 * The practice set for the next session. Only competent members leave: each gives its place to one outside that
 * has a higher rate, or to nobody while there are more members than places. All others stay, however many they are.
 * Free places go to the first candidates that gain something and are not competent; to a competent one only where
 * that gains far more ({@link competentEnters}).
 *
 * @example
 * const vault = { technique: 'vault', rate: 1, competent: false, open: true };
 * const skip = { technique: 'skip', rate: 2, competent: false, open: true };
 * const set = { candidates: [skip, vault], currentMembers: ['vault'], size: 1 };
 * choosePracticeSet(set).members // ['vault']
 * choosePracticeSet({ ...set, candidates: [skip, { ...vault, competent: true }] }).members // ['skip']
 */
export function choosePracticeSet({ candidates, currentMembers, size }: PracticeSetInput): PracticeSet {
  const places = Math.max(0, Math.floor(size));
  const byId = new Map(candidates.map((candidate) => [candidate.technique, candidate]));
  const members = currentMembers.flatMap((technique) => {
    const candidate = byId.get(technique);
    return candidate?.open === true ? [candidate] : [];
  });
  const departures: Departure[] = [];
  const competentWithLeastRate = (): SetCandidate | undefined =>
    members.reduce<SetCandidate | undefined>(
      (least, member) => (member.competent && !(least && least.rate <= member.rate) ? member : least),
      undefined,
    );
  const leave = (member: SetCandidate, replacedBy: string | null): void => {
    members.splice(members.indexOf(member), 1);
    departures.push({ technique: member.technique, replacedBy });
  };
  while (members.length > places) {
    const least = competentWithLeastRate();
    if (least === undefined) break;
    leave(least, null);
  }
  const bestNewcomer = (): number =>
    candidates.reduce(
      (best, row) => (row.open && !row.competent && !members.includes(row) ? Math.max(best, row.rate) : best),
      0,
    );
  for (const candidate of candidates) {
    if (!candidate.open || !(candidate.rate > 0) || members.includes(candidate)) continue;
    if (candidate.competent) {
      if (members.length >= places || !competentEnters(candidate.rate, bestNewcomer())) continue;
    } else if (members.length >= places) {
      const least = competentWithLeastRate();
      if (least === undefined || least.rate >= candidate.rate) continue;
      leave(least, candidate.technique);
    }
    members.push(candidate);
  }
  return { members: members.map((member) => member.technique), departures };
}

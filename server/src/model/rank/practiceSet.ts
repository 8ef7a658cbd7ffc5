/**
 * The practice set: the few techniques that are practised each session. It stays the same from session to session;
 * a technique leaves it only if a clearly better one is outside.
 */

/**
 * The usual leaving share: a technique that is not competent yet leaves the set when its gain per hour is below
 * this share of the best outside. Chosen by simulation: for runners who make no progress for a long time and then
 * learn suddenly, a share of about a third gains 2 to 3 % more than a half; for all other runners the difference
 * was within the simulation error.
 */
export const leavingShare = 0.35;

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
  /** Best first. */
  readonly candidates: readonly SetCandidate[];
  /**
   * Techniques that were practised in the last seven days and have not been replaced or left out since; those
   * longest in the set first.
   */
  readonly currentMembers: readonly string[];
  /** Largest number of techniques in the set. */
  readonly size: number;
  /** A technique that is not competent yet leaves when its rate is below this share of the best outside. */
  readonly leavingShare: number;
}

/** A technique that left the set, and the one that replaced it. */
export interface Departure {
  readonly technique: string;
  readonly replacedBy: string;
}

export interface PracticeSet {
  /** The members, those longest in the set first. */
  readonly members: readonly string[];
  readonly departures: readonly Departure[];
}

/**
 * The practice set for the next session. Its members stay, except that a competent technique gives its place to one
 * outside with a higher rate, and one that is not yet competent does so only where its own rate is below the
 * leaving share of that rate. Free places go to the best techniques that can be practised today.
 *
 * @example
 * const vault = { technique: 'vault', rate: 1, competent: false, open: true };
 * const skip = { technique: 'skip', rate: 2, competent: false, open: true };
 * const set = { candidates: [skip, vault], currentMembers: ['vault'], size: 1, leavingShare };
 * choosePracticeSet(set).members // ['vault']
 * choosePracticeSet({ ...set, candidates: [skip, { ...vault, competent: true }] }).members // ['skip']
 */
export function choosePracticeSet(input: PracticeSetInput): PracticeSet {
  const { candidates, currentMembers, leavingShare } = input;
  const size = Math.max(0, Math.floor(input.size));
  const byId = new Map(candidates.map((candidate) => [candidate.technique, candidate]));
  const members = currentMembers.flatMap((technique) => {
    const candidate = byId.get(technique);
    return candidate?.open === true ? [candidate] : [];
  });
  // If there are too many members, those with the lowest rate leave.
  while (members.length > size) {
    const least = members.reduce((a, b) => (b.rate < a.rate ? b : a));
    members.splice(members.indexOf(least), 1);
  }
  const departures: Departure[] = [];
  const rateToKeep = (member: SetCandidate): number => member.rate / (member.competent ? 1 : leavingShare);
  for (const candidate of candidates) {
    if (!candidate.open || !(candidate.rate > 0) || members.includes(candidate)) continue;
    if (members.length < size) {
      members.push(candidate);
      continue;
    }
    if (members.length === 0) break;
    const weakest = members.reduce((a, b) => (rateToKeep(b) < rateToKeep(a) ? b : a));
    if (rateToKeep(weakest) >= candidate.rate) continue;
    members.splice(members.indexOf(weakest), 1);
    members.push(candidate);
    departures.push({ technique: weakest.technique, replacedBy: candidate.technique });
  }
  return { members: members.map((member) => member.technique), departures };
}

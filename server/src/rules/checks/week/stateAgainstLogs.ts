import type { TechniqueState } from '../../../files/documents/documents.ts';
import type { Standing } from '../../../model/core/standing.ts';
import { restsOnWeight } from '../../../queries/resetWeightText.ts';
import { standingLabels, standingSentence } from '../../../queries/standingText.ts';
import { techniqueStatesOf } from '../../../queries/techniqueStates.ts';
import { currentTechniqueId } from '../../../workspace/project.ts';
import type { ForecastRule, RuleContext, RuleReport } from '../../engine/rule.ts';
import { nameIn } from '../../lookup/nameIn.ts';
import { dayStartsOf } from '../../../queries/dayStarts.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

/** A state in the week file that contradicts where the technique stands by the logs. */
export const stateAgainstLogs: ForecastRule = {
  code: 'state-against-logs',
  severity: 'warning',
  title: 'A state in the week file that the logs contradict.',
  page: {
    why: 'What the week file says comes before the logs: an outdated state keeps a technique out of the odds and out of the plan, or in runs where it costs time.',
    way: 'Write the state of today, or take the line out and let the logs decide. The fix writes the state that agrees with where the technique stands.',
    failing: {
      week: 'states: { crate-vault: unlearned }\n',
      practice: `sessions:
  - { start: 2026-10-05T19:30, blocks: [{ technique: crate-vault, minutes: 25, landed: [61, 104] }] }
`,
    },
    passing: {
      week: 'states: { crate-vault: learning }\n',
      practice: `sessions:
  - { start: 2026-10-05T19:30, blocks: [{ technique: crate-vault, minutes: 25, landed: [31, 104] }] }
`,
    },
  },
  techniqueIds: (context) => writtenIn(context).map(({ id }) => id),
  check(context, assessment) {
    const written = writtenIn(context);
    const { own, today } = context;
    if (!own.week || written.length === 0) return [];
    const { uri } = own.week;
    const logged = techniqueStatesOf(
      context.project,
      { ...own, week: undefined },
      dayStartsOf(context.own),
      today,
    );
    return written.flatMap(({ id, as, state, path }): RuleReport[] => {
      const now = assessment.get(id);
      const standing = now?.standing;
      const right = standing && stateThatFits(state, standing, logged.get(id));
      if (standing === undefined || right === undefined) return [];
      const place: SourceRef = { uri, path, part: 'value' };
      const stands = `By the logs its standing is “${standingLabels[standing.kind]}”. ${standingSentence(standing, nameIn(context))}${restsOnWeight(now!.resetWeight)}`;
      const found =
        state === 'unlearned' && standing.kind !== 'in-run'
          ? used[logged.get(id) === 'in-run' ? 'in-run' : 'learning']
          : stands;
      const message = `\`${as}\` is \`${state}\` here. ${found} Write \`${right}\`, or take the line out and let the logs decide.`;
      return [
        {
          ...place,
          message,
          fix: { ...place, title: `Change to \`${right}\``, text: right, onRequest: true },
        },
      ];
    });
  },
};

/** What the logs show of a technique that is said not to be begun. */
const used = {
  'in-run': 'It was tried in several of the last runs.',
  learning: 'It was practised in the last days.',
} as const;

/** The state that agrees with where a technique stands; undefined where the written one does not contradict it. */
function stateThatFits(
  written: TechniqueState,
  standing: Standing,
  logged: TechniqueState | undefined,
): TechniqueState | undefined {
  const { kind, worthTrying } = standing;
  switch (written) {
    case 'in-run':
      return ['again', 'learning', 'aside'].includes(kind) && !worthTrying ? 'learning' : undefined;
    case 'learning':
      return kind === 'in-run' ? 'in-run' : undefined;
    case 'unlearned':
      if (kind === 'in-run') return 'in-run';
      if (kind === 'left-out' || logged === undefined || logged === 'unlearned') return undefined;
      return logged === 'in-run' && worthTrying ? 'in-run' : 'learning';
  }
}

interface WrittenState {
  readonly id: string;
  /** The id as it is written, which may be a former one. */
  readonly as: string;
  readonly state: TechniqueState;
  readonly path: SourceRef['path'];
}

function writtenIn({ project, own }: RuleContext): WrittenState[] {
  return (own.week?.document.states ?? []).flatMap(({ id: as, state, path }) => {
    const id = currentTechniqueId(project, as);
    return id === undefined ? [] : [{ id, as, state, path }];
  });
}

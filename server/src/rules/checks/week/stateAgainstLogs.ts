import { currentTechniqueId } from '../../../workspace/project.ts';
import { techniqueStatesOf } from '../../../queries/techniqueStates.ts';
import { dayStartsOf } from '../../lookup/ownFiles.ts';
import type { RuleReport, Rule } from '../../engine/rule.ts';
import type { SourceRef } from '../../lookup/sourceRef.ts';

/** A technique that the week calls unlearned and the logs show in practice or in runs. */
export const stateAgainstLogs: Rule = {
  code: 'state-against-logs',
  severity: 'warning',
  title: 'A technique called unlearned that the logs show in use.',
  page: {
    why: 'What the week file says wins over the logs: an outdated state hides a technique from the odds and from the plan.',
    way: 'Write the state of today, or take the line out and let the logs decide. The fix writes what the logs say.',
    failing: {
      week: 'states: { crate-vault: unlearned }\n',
      practice: `sessions:
  - { start: 2026-10-05T19:30, blocks: [{ technique: crate-vault, minutes: 25, landed: [61, 104] }] }
`,
    },
    passing: {
      week: 'states: { crate-vault: learning }\n',
      practice: `sessions:
  - { start: 2026-10-05T19:30, blocks: [{ technique: crate-vault, minutes: 25, landed: [61, 104] }] }
`,
    },
  },
  check(context) {
    const { project, own, today } = context;
    const { week } = own;
    const unlearned = week?.document.states.filter(({ state }) => state === 'unlearned') ?? [];
    if (!week || unlearned.length === 0) return [];
    const logged = techniqueStatesOf(project, { ...own, week: undefined }, dayStartsOf(context), today);
    return unlearned.flatMap(({ id, path }): RuleReport[] => {
      const current = currentTechniqueId(project, id);
      const state = current === undefined ? undefined : logged.get(current);
      if (state === undefined || state === 'unlearned') return [];
      const place: SourceRef = { uri: week.uri, path, part: 'value' };
      const seen = state === 'in-run' ? 'tried in several of the last runs' : 'practised in the last days';
      const message = `\`${id}\` is unlearned here, but was ${seen}. Write \`${state}\`, or take the line out and let the logs decide.`;
      return [
        {
          ...place,
          message,
          fix: { ...place, title: `Change to \`${state}\``, text: state, onRequest: true },
        },
      ];
    });
  },
};

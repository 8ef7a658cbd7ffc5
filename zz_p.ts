import { Workspace } from '/work/main/server/src/workspace/workspace.ts';
import { nodeFiles } from '/work/main/server/src/workspace/nodeFiles.ts';
import { weekQuestionOf } from '/work/main/server/src/workspace/weekQuestion.ts';
import { ownPart } from '/work/main/server/src/workspace/runner.ts';
import { planWeek } from '/work/main/server/src/model/week/plan.ts';
const w = new Workspace(nodeFiles(), ['file:///work/main/samples']);
await w.load();
const p = w.groups().projects[0]!;
const q = weekQuestionOf(p, ownPart(p) as any, 4);
for (const m of [undefined, 120]) {
  let t = performance.now();
  const plan = planWeek(m ? { ...q.input, minutes: q.input.minutes.map((x, i) => i % 7 < 6 ? m : 0) } : q.input);
  console.log(performance.now() - t, plan.set, plan.gap, plan.oneSession, plan.notPlanned, plan.forecast.filter((_, i) => i % 7 == 6));
  for (const d of plan.days.slice(0, 8)) console.log(d.day, d.blocks.map(b => `${b.technique} ${b.minutes}+${b.rest}`).join(', '));
  console.log(plan.changes.map(c => `${c.day} ${c.technique}>${c.replacedBy} ${c.competent}`));
}

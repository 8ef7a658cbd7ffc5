import { inventWeek } from './tests/helpers/weekProblems.ts';
import { follower } from './server/src/model/week/follow.ts';
import { search } from './server/src/model/week/search.ts';
import { upperBound } from './server/src/model/week/bound.ts';
import { setSizes } from './server/src/model/week/sessions.ts';
const N = Number(process.argv[2] ?? 8), budget = Number(process.argv[3] ?? 1500), rounds = Number(process.argv[4] ?? 100);
const needing = Number(process.argv[5] ?? 0.15);
const weeks = [[120,120,120,120,120,0,0],[100,100,75,50,100,0,0],[50,50,50,50,50,50,50],[60,0,60,0,60,180,180],[25,25,25,25,25,0,90]];
let sum=0, worst=2, gsum=0;
for (let s = 0; s < N; s++) {
  const p = inventWeek(s, { techniques: 30, days: 28, minutes: weeks[s % 5]!, needing, carried: s % 3 });
  let t = performance.now();
  const f = follower(p);
  const sizes = setSizes(p.minutes, 25, { pinned: 0, carried: s % 3 }); const most = sizes[0]!;
  const g = f.area(p.items.map((_, i) => i), most);
  const r = search(p, f, sizes, budget);
  const t1 = performance.now() - t; t = performance.now();
  const b = upperBound(p, f, sizes, r.area, rounds);
  const t2 = performance.now() - t;
  const pl = f.plan(r.order, r.size);
  const changes = pl.days.flatMap((d,i)=>d.left.map(l=>`${i}:${l.item}>${l.replacedBy}${l.competent?'c':''}`)).join(' ');
  console.log(s, s % 5, 'greedy', (g / b).toFixed(3), 'search', (r.area / b).toFixed(3), 'size', r.size, 'ms', t1.toFixed(0), 'bound ms', t2.toFixed(0));
  sum += r.area / b; worst = Math.min(worst, r.area / b); gsum += g/b;
}
console.log('mean', sum / N, 'worst', worst, 'greedy', gsum/N);

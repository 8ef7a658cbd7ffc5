import { measurePlanning } from './tests/bench/plan.ts';
import { quantile } from './tests/bench/samples.ts';
const r = measurePlanning(1, 6);
for (const [k, v] of Object.entries(r)) console.log(k, 'mean', (v.reduce((a: number, b: number) => a + b, 0) / v.length).toFixed(3), 'median', quantile(v, 0.5).toFixed(3), 'min', quantile(v, 0).toFixed(3), 'max', quantile(v, 1).toFixed(3));
const k = [0,1,2,3,4].map(i => r.searchedShare.filter((_: number, j: number) => j % 5 === i));
console.log(k.map(v => (v.reduce((a, b) => a + b, 0) / v.length).toFixed(3)));

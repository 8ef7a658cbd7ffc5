import { Client } from './client.ts'; import { own } from './servers.ts'; import { folderWith, remove } from './folder.ts';
import { makeRoute } from './route.ts'; import { mistakesIn, openWithMistake, make, mend } from './edits.ts'; import { createRandom } from '../../samples/simulation/random.ts'; import { memoryOf, idle } from './memory.ts';
const text = makeRoute(20250106, { lines: 10000 }).text;
const ms = mistakesIn(text, 10, createRandom(1));
 const {folder, folderUri, uri} = folderWith(text);
 const c = await Client.start({...own, args:['--cpu-prof','--cpu-prof-dir=/tmp/benchtry/prof','/tmp/benchtry/dev.cjs','--stdio']}, folderUri);
 console.log(c.startMs, 'open', await openWithMistake(c, uri, text, ms[0]!));
 let t=performance.now(); await idle(c.pid); console.log('idle', performance.now()-t, memoryOf(c.pid));
 console.log('mend', await mend(c, uri, ms[0]!));
 for (const m of ms) { let t=performance.now(); await idle(c.pid); const i1=performance.now()-t; const a=await make(c, uri, m);  t=performance.now(); await idle(c.pid); t = performance.now()-t; console.log(a.toFixed(1), (await mend(c, uri, m)).toFixed(1), 'idle', i1.toFixed(),t.toFixed(), JSON.stringify(memoryOf(c.pid))); }
 await c.stop(); remove(folder);

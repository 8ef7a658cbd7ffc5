import { worker } from 'workerpool';
import { answered, type Asked } from './forecasts.ts';

/** One worker thread's way in: it works out what it is handed, and reads no file. */
worker({ answered: (some: readonly Asked[]) => answered(some) });

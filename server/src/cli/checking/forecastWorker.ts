import { worker } from 'workerpool';
import { type ForecastTask, runForecasts } from './forecasts.ts';

/** One worker thread's way in: it works out what it is handed, and reads no file. */
worker({ answered: (some: readonly ForecastTask[]) => runForecasts(some) });

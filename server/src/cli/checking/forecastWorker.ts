import { worker } from 'workerpool';
import { type ForecastTask, runForecasts } from './forecasts.ts';

/** The entry point of a worker thread: it computes the forecasts of the tasks that it is handed, and reads no file. */
worker({ answered: (some: readonly ForecastTask[]) => runForecasts(some) });

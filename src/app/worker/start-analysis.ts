import { wrap, type Remote } from 'comlink';
import type { AnalysisApi } from './analysis-api';
import { whenLost } from './when-lost';

/**
 * Starts the worker that computes for the page.
 *
 * @param onLost - called once when it is gone and will answer no more.
 */
export function startAnalysis(onLost: () => void): Remote<AnalysisApi> {
  const worker = new Worker(new URL('./analysis.worker.ts', import.meta.url), { type: 'module' });
  return wrap<AnalysisApi>(whenLost(worker, onLost));
}

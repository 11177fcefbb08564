import { expose, transfer } from 'comlink';
import { Cancelled, InputError } from '../../../lib/errors';
import type { AnalysisApi, Ended } from './analysis-api';
import { Analyst } from './analyst';
import { digZones } from './dig-zones';
import { keepClear } from './keep-clear';

const analyst = new Analyst();
const running = new Map<number, AbortController>();

/** Runs one task: problems the user can act on and cancelling cross as values, mistakes of ours as errors. */
async function run<T>(
  task: number,
  work: (signal: AbortSignal) => T | Promise<T>,
): Promise<Ended<T>> {
  const controller = new AbortController();
  running.set(task, controller);
  try {
    return { ok: true, value: await work(controller.signal) };
  } catch (error) {
    if (error instanceof Cancelled) return { ok: false, problem: null };
    if (error instanceof InputError) return { ok: false, problem: error.toProblem() };
    throw error;
  } finally {
    running.delete(task);
  }
}

/** Gives the raster of an answer away instead of a copy. */
function handOver<T extends { readonly depthM: Float32Array<ArrayBuffer> }>(
  ended: Ended<T>,
): Ended<T> {
  return ended.ok ? transfer(ended, [ended.value.depthM.buffer]) : ended;
}

const api: AnalysisApi = {
  openElevation: (task, source) => run(task, (signal) => analyst.open(source, signal)),
  survey: (task, plan, verticalUnitM, onProgress) =>
    run(task, (signal) => analyst.survey(plan, verticalUnitM, signal, onProgress)),
  drain: async (task, plan, uptakeM3, onProgress) =>
    handOver(await run(task, (signal) => analyst.drain(plan, uptakeM3, signal, onProgress))),
  ponding: async (task, plan, uptakeM3) =>
    handOver(await run(task, (signal) => analyst.ponding(plan, uptakeM3, signal))),
  probe: (task, plan, at) => run(task, (signal) => analyst.probe(plan, at, signal)),
  keepClear: (task, plan, frame) => run(task, () => keepClear(plan, frame)),
  digZones: (task, plan, frame, today) => run(task, () => digZones(plan, frame, today)),
  places: (task, question, onProgress, onPlaces) =>
    run(task, (signal) => analyst.places(question, signal, onProgress, onPlaces)),
  askPlace: (task, question, at, onProgress) =>
    run(task, (signal) => analyst.askPlace(question, at, signal, onProgress)),
  design: (task, plan, record, onProgress) =>
    run(task, (signal) => analyst.design(plan, record, signal, onProgress)),
  cancel: (task) => {
    running.get(task)?.abort();
  },
};

expose(api);

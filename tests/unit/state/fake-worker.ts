import type { Remote } from 'comlink';
import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import { Crc32 } from '../../../lib/elevation/bytes/crc32';
import type { ElevationDescription } from '../../../lib/elevation/file/open-elevation';
import type { InputProblem } from '../../../lib/errors';
import type { Plan } from '../../../lib/plan/schema';
import type { Analysis } from '../../../src/app/state/answers/analysis.svelte';
import type { PageElevation } from '../../../src/app/state/tasks/elevation-reader';
import type {
  AnalysisApi,
  Ended,
  GroundPicture,
  OpenedElevation,
  PageSource,
  PlanOnGround,
  PondingPicture,
  WaterPicture,
} from '../../../src/app/worker/analysis-api';
import type { DesignPicture } from '../../../src/app/worker/design-picture';
import { groundOf } from '../ground/plane-lot';

/** A call that waits for the test to say how it ends. */
export interface Call {
  readonly name: keyof AnalysisApi;
  readonly task: number;
  readonly args: readonly unknown[];
  /** Answers with a value. */
  done(value: unknown): Promise<void>;
  refused(problem?: Partial<InputProblem>): Promise<void>;
  stopped(): Promise<void>;
  fails(reason: string): Promise<void>;
}

/** Lets all that waits for settled promises go on. */
export async function settle(): Promise<void> {
  for (let i = 0; i < 20; i++) await Promise.resolve();
}

/** The page's side of a worker that does what the test says, when it says so. */
export class FakeWorker {
  /** Calls that have not ended, in their order. */
  calls: Call[] = [];
  readonly cancelled: number[] = [];
  readonly wentOnWith: number[] = [];
  /** How often one was started. */
  started = 0;
  /** Makes the worker that is there break off. */
  die: () => void = () => undefined;

  readonly start = (onLost: () => void): Remote<AnalysisApi> => {
    this.started++;
    this.die = () => {
      this.calls = [];
      onLost();
    };
    return new Proxy({} as Remote<AnalysisApi>, {
      get: (_, name) => {
        if (name === 'cancel') return (task: number) => this.cancelled.push(task);
        if (name === 'goOnWith') return (ground: number) => this.wentOnWith.push(ground);
        return (task: number, ...args: unknown[]) =>
          this.#wait(name as keyof AnalysisApi, task, args);
      },
    });
  };

  /** The first call of a name that has not ended. */
  call(name: keyof AnalysisApi): Call {
    const found = this.calls.find((each) => each.name === name);
    if (found === undefined) throw new Error(`${name} was not called`);
    return found;
  }

  has(name: keyof AnalysisApi): boolean {
    return this.calls.some((each) => each.name === name);
  }

  #wait(name: keyof AnalysisApi, task: number, args: unknown[]): Promise<Ended<unknown>> {
    return new Promise((resolve, reject) => {
      const end = async (act: () => void): Promise<void> => {
        this.calls = this.calls.filter((each) => each !== call);
        act();
        await settle();
      };
      const call: Call = {
        name,
        task,
        args,
        done: (value) =>
          end(() => {
            resolve({ ok: true, value });
          }),
        refused: (problem) =>
          end(() => {
            const whole = { code: 'x', where: 'lot', problem: 'no', remedy: 'try', ...problem };
            resolve({ ok: false, problem: whole });
          }),
        stopped: () =>
          end(() => {
            resolve({ ok: false, problem: null });
          }),
        fails: (reason) =>
          end(() => {
            reject(new Error(reason));
          }),
      };
      this.calls.push(call);
    });
  }
}

/** A flat ground of 60 by 60 m, with its south-west corner at the origin of the made-up lots. */
export function groundPicture(number: number): GroundPicture {
  return { number, grid: groundOf(60, 60, 1, () => 3), notes: [] } as unknown as GroundPicture;
}

/** A file as the worker opens it: which one it is hangs on its name alone. */
export function opened(name: string, task: number, needs: 'vertical-unit'[] = []): OpenedElevation {
  const description = { name, needs } as unknown as ElevationDescription;
  const crc32 = new Crc32().add(new TextEncoder().encode(name)).digits;
  const identity = { name, sizeBytes: 1000, crc32 };
  return { file: task, description, identity };
}

export function fileOf(name: string): PageSource {
  return { name, blob: new Blob([name]) };
}

/** Opens and reads an elevation to the end and puts it on the sheet. */
export async function showGround(
  analysis: Analysis,
  worker: FakeWorker,
  plan: Plan,
  name = 'yard.tif',
): Promise<PageElevation> {
  const source = fileOf(name);
  const opening = analysis.reader.open(source);
  const open = worker.call('openElevation');
  await open.done(opened(name, open.task));
  const elevation = await opening;
  if (elevation === null) throw new Error('the fake file was not opened');
  const reading = analysis.reader.read(elevation, plan, null);
  const survey = worker.call('survey');
  await survey.done(groundPicture(survey.task));
  const read = await reading;
  if (read.how !== 'done') throw new Error('the fake ground was not read');
  analysis.show(read.value);
  return elevation;
}

/** An answer as the worker makes it from what a call asks about. */
export function answerTo(call: Call, answer: unknown): unknown {
  const [{ ground, version }] = call.args as [PlanOnGround];
  return { ground, version, answer };
}

/** Water of which only its name is known. */
export function water(name: string): WaterPicture {
  const result = { standing: [], basins: [], notes: [name] } as unknown as DrainageResult;
  return { result, depthM: new Float32Array(1) } as unknown as WaterPicture;
}

export function ponding(rainMm: number): PondingPicture {
  const standingOnLot = { volume_m3: 0, low_spots: 0, in_low_spots_m3: 0, in_puddles_m3: 0 };
  return { rainMm, depthM: new Float32Array([rainMm]), standing: [], standingOnLot };
}

/** A design that takes so much in while it rains. */
export function design(takenInM3: number): DesignPicture {
  const basins = [{ id: 'basin', basin: {}, storm: { taken_in_m3: takenInM3 } }];
  return { result: { basins }, figures: [] } as unknown as DesignPicture;
}

import { transfer } from 'comlink';
import type { Survey } from '../../../lib/drainage/storm/survey-lot';
import { Cancelled, InputError } from '../../../lib/errors';
import { makeFrame } from '../../../lib/frame/frame';
import { toLocal } from '../../../lib/plan/local-plan';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import type { AnalysisApi, Ended, MadeFrom, PlanOnGround } from './analysis-api';
import { Analyst } from './analyst';
import { backdropPicture } from './backdrop-picture';
import { digZones } from './dig-zones';
import type { SetDrawer, SetPage, SetPlan } from './drawing-set';
import { keepClear } from './keep-clear';
import type { LotGround } from './lot-ground';
import type { JudgedForPacket, PacketPlan } from './review-packet';

/** All that the worker does for the page, with nothing opened yet. */
export function serveAnalysis(): AnalysisApi {
  const analyst = new Analyst();
  let drawer: Promise<SetDrawer> | null = null;
  /** Loaded when a set is wanted, with the libraries that letters need. */
  const drawerOf = (): Promise<SetDrawer> =>
    (drawer ??= import('./drawing-set').then(({ SetDrawer: Drawer }) => new Drawer()));
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

  /** Runs a task on the ground that it was asked about; the answer says which ground and plan it was made from. */
  function runOn<T>(
    task: number,
    { ground, version }: PlanOnGround,
    work: (ground: LotGround, signal: AbortSignal) => Promise<T>,
  ): Promise<Ended<MadeFrom<T>>> {
    return run(task, async (signal) => {
      const lotGround = analyst.groundOf(ground);
      return { ground: lotGround.number, version, answer: await work(lotGround, signal) };
    });
  }

  return {
    openElevation: (task, source) => run(task, (signal) => analyst.open(task, source, signal)),
    survey: (task, from, plan, onProgress) =>
      run(task, (signal) => analyst.survey(task, from, plan, signal, onProgress)),
    goOnWith: (ground) => {
      analyst.goOnWith(ground);
    },
    drain: async (task, asked, uptakeM3, onProgress) =>
      handOver(
        await runOn(task, asked, (ground, signal) =>
          ground.drain(asked.plan, uptakeM3, signal, onProgress),
        ),
      ),
    ponding: async (task, asked, uptakeM3) =>
      handOver(
        await runOn(task, asked, (ground, signal) => ground.ponding(asked.plan, uptakeM3, signal)),
      ),
    existing: (task, asked, onProgress) =>
      runOn(task, asked, (ground, signal) => ground.existing(asked.plan, signal, onProgress)),
    differenceDoubt: (task, asked, uptakeM3, errors, onProgress) =>
      runOn(task, asked, (ground, signal) =>
        ground.differenceDoubt(asked.plan, uptakeM3, errors, signal, onProgress),
      ),
    spills: (task, asked) =>
      runOn(task, asked, (ground, signal) => ground.spills(asked.plan, signal)),
    contours: (task, asked) =>
      runOn(task, asked, (ground) => Promise.resolve(ground.contours(asked.plan))),
    backdrop: (task, source, plan) => run(task, (signal) => backdropPicture(source, plan, signal)),
    profile: (task, asked, line) =>
      runOn(task, asked, (ground, signal) => ground.profile(asked.plan, line, signal)),
    probe: (task, asked, at) =>
      runOn(task, asked, (ground, signal) => ground.probe(asked.plan, at, signal)),
    keepClear: (task, plan, frame) => run(task, () => keepClear(plan, frame)),
    digZones: (task, plan, frame, today) => run(task, () => digZones(plan, frame, today)),
    places: (task, asked, terms, onProgress, onPlaces) =>
      runOn(task, asked, (ground, signal) =>
        ground.places(asked.plan, terms, signal, onProgress, onPlaces),
      ),
    askPlace: (task, asked, terms, at, onProgress) =>
      runOn(task, asked, (ground, signal) =>
        ground.askPlace(asked.plan, terms, at, signal, onProgress),
      ),
    remedies: (task, asked, today, onProgress, onProposal) =>
      runOn(task, asked, (ground, signal) =>
        ground.remedies(asked.plan, today, signal, onProgress, onProposal),
      ),
    withRemedy: (task, asked, change, onProgress) =>
      runOn(task, asked, (ground, signal) =>
        ground.withRemedy(asked.plan, change, signal, onProgress),
      ),
    design: (task, asked, record, onProgress) =>
      runOn(task, asked, (ground, signal) => ground.design(asked.plan, record, signal, onProgress)),
    drawSet: (task, { plan, frame, ground }, options, onProgress) =>
      run(task, (signal) => {
        const draw = async (of: SetPlan): Promise<readonly SetPage[]> =>
          (await drawerOf()).draw(of, options, onProgress);
        if (ground === null) return draw({ plan: toLocal(plan, makeFrame(frame)), survey: null });
        return analyst
          .groundOf(ground)
          .onSurvey(plan, signal, (survey) => draw({ plan: survey.plan, survey }));
      }),
    setPdf: async (task) => {
      const ended = await run(task, async () => new Uint8Array(await (await drawerOf()).pdf()));
      return ended.ok ? transfer(ended, [ended.value.buffer]) : ended;
    },
    setSvg: (task, page) => run(task, async () => (await drawerOf()).svg(page)),
    job: (task, asked, today) =>
      runOn(task, asked, (ground, signal) => ground.job(asked.plan, today, signal)),
    exported: (task, { plan, ground }, format) =>
      run(task, async (signal) => {
        const { exportPlan } = await import('../../../lib/handover/export/export-plan');
        const write = async (survey: Survey | null): Promise<string | Uint8Array> =>
          (await exportPlan(format, { plan, file: 'The plan', survey })).written;
        if (ground === null) return write(null);
        return analyst.groundOf(ground).onSurvey(plan, signal, write);
      }),
    packet: async (task, { plan, frame, ground, file, date, earlier }) => {
      const ended = await run(task, async (signal) => {
        const { judgedForPacket, reviewPacket, savedPlan } = await import('./review-packet');
        const judge = (of: Plan, named: (at: SetPlan) => PacketPlan): Promise<JudgedForPacket> =>
          ground === null
            ? Promise.resolve(
                judgedForPacket(named({ plan: toLocal(of, makeFrame(frame)), survey: null }), date),
              )
            : analyst
                .groundOf(ground)
                .onSurvey(of, signal, (survey) =>
                  Promise.resolve(judgedForPacket(named({ plan: survey.plan, survey }), date)),
                );
        const before =
          earlier === null
            ? null
            : await judge(readPlan(earlier.text, earlier.file).plan, (at) => ({
                ...at,
                ...earlier,
              }));
        return reviewPacket(await judge(plan, (at) => savedPlan(at, file)), before, date);
      });
      return ended.ok ? transfer(ended, [ended.value.pdf.buffer]) : ended;
    },
    cancel: (task) => {
      running.get(task)?.abort();
    },
  };
}

/** Gives the raster of an answer away instead of a copy. */
function handOver<T extends { readonly depthM: Float32Array<ArrayBuffer> }>(
  ended: Ended<MadeFrom<T>>,
): Ended<MadeFrom<T>> {
  return ended.ok ? transfer(ended, [ended.value.answer.depthM.buffer]) : ended;
}

import { describe, expect, it } from 'vitest';
import { drainLot, drainSteps } from '../../../lib/drainage/answer/drain-lot';
import { shapeGround, shapeSteps } from '../../../lib/drainage/storm/shaped-ground';
import { atOnce, partOf, withPauses, type Step, type Steps } from '../../../lib/drainage/steps';
import { stormOnGround, stormSteps } from '../../../lib/drainage/storm/storm-on-ground';
import type { Elevation } from '../../../lib/elevation/window/read-window';
import { Cancelled } from '../../../lib/errors';
import type { PlanFeature } from '../../../lib/plan/schema';
import { KeptGround } from '../../../src/app/worker/kept-ground';
import { Turns } from '../../../src/app/worker/turns';
import { fractalGround } from '../../bench/fractal-ground';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

function* counting(to: number, seen: number[]): Steps<string> {
  for (let i = 0; i < to; i++) {
    seen.push(i);
    yield { fraction: i / to, stage: 'counting' };
  }
  return 'done';
}

const soon = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

describe('steps', () => {
  it('can be taken at once, with progress, until cancelled', () => {
    const fractions: number[] = [];
    expect(atOnce(counting(4, []), { onProgress: (fraction) => fractions.push(fraction) })).toBe(
      'done',
    );
    expect(fractions).toEqual([0, 0.25, 0.5, 0.75]);
    const controller = new AbortController();
    const seen: number[] = [];
    const stopped = (): string =>
      atOnce(counting(4, seen), {
        signal: controller.signal,
        onProgress: (fraction) => {
          if (fraction >= 0.5) controller.abort();
        },
      });
    expect(stopped).toThrow(Cancelled);
    expect(seen).toEqual([0, 1, 2]);
  });

  it('let others in between, so that word to stop from outside arrives', async () => {
    const controller = new AbortController();
    const seen: number[] = [];
    setTimeout(() => {
      controller.abort();
    }, 5);
    const { signal } = controller;
    await expect(withPauses(counting(1e6, seen), soon, { signal })).rejects.toThrow(Cancelled);
    expect(seen.length).toBeGreaterThan(0);
    expect(seen.length).toBeLessThan(1000);
    expect(await withPauses(counting(3, []), soon)).toBe('done');
  });

  it('of a part lie between where the part begins and ends', () => {
    const fractions: number[] = [];
    const found = atOnce(partOf(counting(2, []), 0.4, 0.6), {
      onProgress: (fraction) => fractions.push(fraction),
    });
    expect(found).toBe('done');
    expect(fractions).toEqual([0.4, 0.5]);
  });
});

const side = 120;
const z = fractalGround(side, 4, 0.02);
const elevationOf = () =>
  groundOf(60, 60, 0.5, (x, y) => z[(side - 1 - Math.floor(y / 0.5)) * side + Math.floor(x / 0.5)]);
const own = polygonOf('own', box(10.2, 10.2, 45.2, 45.2), { kind: 'lot', own: true });
const other = polygonOf('east', box(45.2, 10.2, 56.2, 45.2), { kind: 'lot', own: false });
const house: PlanFeature = polygonOf('house', box(20.2, 20.2, 30.2, 30.2), {
  kind: 'building',
});
const about = { crs: '', rmseM: 0.1 };

/** All steps of some work and what comes of it. */
function taken<T>(steps: Steps<T>): { value: T; seen: Step[] } {
  const seen: Step[] = [];
  const value = atOnce(steps, { onProgress: (fraction, stage) => seen.push({ fraction, stage }) });
  return { value, seen };
}

describe('the chain for a lot, in steps', () => {
  const plan = planOf([own, other, house]);

  it('comes to what it comes to at once, telling how far it is all the way', () => {
    const shaped = taken(shapeSteps(elevationOf(), plan));
    const stormed = taken(stormSteps(shaped.value, plan, 40));
    const drained = taken(drainSteps(shaped.value, stormed.value, plan, about));
    const shape = shapeGround(elevationOf(), plan);
    expect(drained.value).toEqual(drainLot(shape, stormOnGround(shape, plan, 40), plan, about));
    for (const { seen } of [shaped, stormed, drained]) {
      const fractions = seen.map(({ fraction }) => fraction);
      expect(fractions).toEqual(fractions.toSorted((a, b) => a - b));
      expect(fractions[0]).toBe(0);
    }
    // A step for each stage, for each thing asked what drains to it, each house and each lot.
    expect(shaped.seen.length).toBeGreaterThan(6);
    expect(drained.seen.length).toBeGreaterThan(drained.value.contributing.length + 1 + 2);
  });

  it('loses nothing when cancelled at any step: asked again, it comes to the same', () => {
    const elevation = { grid: elevationOf() } as Elevation;
    const kept = new KeptGround(elevation);
    const whole = atOnce(kept.steps(plan));
    const before = drainLot(whole, stormOnGround(whole, plan, 40), plan, about);
    const without = planOf([own, other]);
    const steps = taken(new KeptGround(elevation).steps(without)).seen.length;
    for (let stopAt = 1; stopAt <= steps; stopAt++) {
      const going = kept.steps(without);
      for (let step = 0; step < stopAt; step++) going.next();
      // Dropped here: what it wrote over must not be taken for the ground that was there.
      const again = atOnce(kept.steps(plan));
      expect(drainLot(again, stormOnGround(again, plan, 40), plan, about)).toEqual(before);
    }
    // What is there and the same is used as it is.
    expect(atOnce(kept.steps(plan))).toBe(atOnce(kept.steps(plan)));
  });
});

describe('turns', () => {
  it('are taken one after the other, also after one that fails', async () => {
    const turns = new Turns();
    const order: string[] = [];
    const work =
      (name: string, fails = false) =>
      async (): Promise<string> => {
        order.push(`${name} begins`);
        await soon();
        order.push(`${name} ends`);
        if (fails) throw new Cancelled();
        return name;
      };
    const first = turns.take(work('a', true));
    const second = turns.take(work('b'));
    await expect(first).rejects.toThrow(Cancelled);
    expect(await second).toBe('b');
    expect(order).toEqual(['a begins', 'a ends', 'b begins', 'b ends']);
  });
});

import { randomFrom } from '../../property/drainage/grounds';
import { betweenByFlow, betweenByMethod, errorsOf, type Errors } from './between-regions';
import {
  cutSurface,
  exactShares,
  straightSurfaces,
  type CutSurface,
  type Place,
} from './closed-forms';
import { betweenByFlowLines } from './flow-lines';
import { askedGround, openDrains, type AskedGround, type MadeGround } from './grounds';
import { routeBy, type Method, type Routed } from './methods';
import { runShallowFlow, type FlowOptions } from './shallow-flow';

/** Root of the mean square and the worst of errors, and their mean, in per cent. */
export interface Summary {
  readonly mean: number;
  readonly rms: number;
  readonly worst: number;
}

export function summary(errors: readonly number[]): Summary {
  const mean = errors.reduce((sum, each) => sum + each, 0) / errors.length;
  const square = errors.reduce((sum, each) => sum + each * each, 0) / errors.length;
  const worst = errors.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
  return { mean: 100 * mean, rms: 100 * Math.sqrt(square), worst: 100 * worst };
}

type ByMethod<T> = Map<Method, T>;

/** Errors of the ground that drains to a place, as parts of its true area, and how much of it is the wrong ground. */
export interface PlaceErrors {
  readonly area: Record<Place, number[]>;
  readonly misplaced: Record<'lot' | 'basin', number[]>;
}

/** On planes, cones, domes, funnels and bowls, whose water runs in straight lines. */
export function closedFormErrors(
  methods: readonly Method[],
  bearings: readonly number[],
  cellM: number,
): ByMethod<PlaceErrors> {
  const found: ByMethod<PlaceErrors> = new Map(
    methods.map((method) => [
      method,
      { area: { lot: [], basin: [], line: [] }, misplaced: { lot: [], basin: [] } },
    ]),
  );
  for (const surface of bearings.flatMap(straightSurfaces)) {
    const cut = cutSurface(surface, cellM);
    const { terrain, masks, side } = cut;
    const routed = methods.map((method) => routeBy(method, terrain.z, side, side, cellM));
    for (const place of ['lot', 'basin'] as const) {
      const exact = exactShares(cut, place);
      const area = sum(exact);
      const above = area - sum(masks[place]);
      methods.forEach((method, k) => {
        const shares = routed[k].reaching(masks[place]);
        const wrong = sum(exact.map((part, i) => Math.abs(shares[i] - part)));
        found.get(method)?.area[place].push(sum(shares) / area - 1);
        found.get(method)?.misplaced[place].push(wrong / 2 / above);
      });
    }
    const area = sum(exactShares(cut, 'line'));
    methods.forEach((method, k) => {
      found.get(method)?.area.line.push(overLine(cut, routed[k], 1e-4) / 1e-4 / area - 1);
    });
  }
  return found;
}

/** Volume over the line, in cells times metres, when a depth is put down everywhere. */
function overLine({ masks, side }: CutSurface, { eachMove }: Routed, depthM: number): number {
  const cell = masks.line.indexOf(1);
  const column = cell % side;
  const first = Math.floor(cell / side);
  const last = Math.floor(masks.line.lastIndexOf(1) / side) + 1;
  let volume = 0;
  eachMove(new Float64Array(side * side).fill(depthM), (from, to, moved) => {
    const before = from % side;
    const after = to % side;
    if (before < column === after < column) return;
    const row = ((from - before) / side + (to - after) / side + 1) / 2;
    if (row < first || row > last) return;
    // a diagonal step at the line's end goes over it by half
    const part = row === first || row === last ? 0.5 : 1;
    volume += Math.sign(after - before) * part * moved;
  });
  return Math.abs(volume);
}

const rainM = 0.04;

/** How volumes into a lot and a basin without bottom, and over a line, change when white noise is laid over the ground. */
export function noiseChanges(
  methods: readonly Method[],
  bearings: readonly number[],
  cellM: number,
  noiseM: number,
  seeds: readonly number[],
): ByMethod<Record<Place, number[]>> {
  const found: ByMethod<Record<Place, number[]>> = new Map(
    methods.map((method) => [method, { lot: [], basin: [], line: [] }]),
  );
  const surfaces = bearings
    .flatMap(straightSurfaces)
    .filter(({ name }) => name === 'plane' || name === 'cone' || name === 'funnel');
  for (const surface of surfaces) {
    const calm = cutSurface(surface, cellM);
    const noisy = seeds.map((seed) => {
      const random = randomFrom(seed);
      // the sum of four even random numbers is near enough to normal
      const normal = (): number => (random() + random() + random() + random() - 2) * Math.sqrt(3);
      return cutSurface(surface, cellM, () => noiseM * normal());
    });
    for (const method of methods) {
      for (const place of ['lot', 'basin', 'line'] as const) {
        const before = volumeTo(calm, method, place);
        for (const cut of noisy) {
          found.get(method)?.[place].push(volumeTo(cut, method, place) / before - 1);
        }
      }
    }
  }
  return found;
}

/** Volume over the line, or into a place without a bottom, in cells times metres. */
function volumeTo(cut: CutSurface, method: Method, place: Place): number {
  const { terrain, side, cellM, masks } = cut;
  const z = terrain.z.slice();
  if (place === 'line') return overLine(cut, routeBy(method, z, side, side, cellM), rainM);
  const isIn = masks[place];
  openDrains(z, isIn, side);
  const runOffM = Float64Array.from(z, (height) => (Number.isNaN(height) ? 0 : rainM));
  let volume = 0;
  routeBy(method, z, side, side, cellM).eachMove(runOffM, (from, to, moved) => {
    volume += (isIn[to] - isIn[from]) * moved;
  });
  return volume;
}

/** Against flow lines on a smooth ground. */
export function flowLineErrors(
  methods: readonly Method[],
  made: MadeGround,
  parts: number,
): ByMethod<Errors> {
  const ground = askedGround(made, parts);
  const right = betweenByFlowLines(made, ground);
  return new Map(
    methods.map((method) => [method, errorsOf(ground, betweenByMethod(ground, method), right)]),
  );
}

/** Against the solver, long after the rain. */
export function solverErrors(
  methods: readonly Method[],
  ground: AskedGround,
  options: FlowOptions,
): ByMethod<Errors> {
  const right = betweenByFlow(ground, runShallowFlow(ground, ground.runOffM, options));
  return new Map(
    methods.map((method) => [method, errorsOf(ground, betweenByMethod(ground, method), right)]),
  );
}

function sum(values: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i];
  return total;
}

import type { Grid } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { distanceM, lengthM } from '../../frame/shapes';
import { heightAt } from '../../ground/height-at';
import { outlineOf, sharedPoint, type Outline } from '../../setback/measure/outline';
import type { ForbiddenGround } from '../refused/forbidden-ground';
import { leadField, wayTo, type LeadField } from './lead-field';
import { meshCellAt } from '../refused/mesh';
import type { LedRoof } from './led-roof';
import type { RoofPart } from '../water/catchments';
import { trenchFindings, type TrenchInput } from './trench-findings';
import { trenchGround } from './trench-ground';
import { isMore } from '../rounding';

/** Least fall of a pipe or swale that leads a roof's water: 1 % (common practice for drains, no source). */
export const leadFall = 0.01;
/** Ground on the way may lie this much under a pipe laid at the least fall: about the error of public elevation data. */
const dipM = 0.1;
/** A way may start this far inside a wall, as outlets are drawn by hand, metres. */
const insideWallM = 0.5;
const stepM = 0.25;

/** A way for a roof's water, before it is known how much of it is led. */
export type LeadIn = Omit<LedRoof, 'area_m2'>;

/**
 * Ways by which roofs' water can be led to basins: downhill by 1 % or more all along, on the own lot, straight or around
 * what stands there, and never along a line in the ground.
 */
export class LeadIns {
  readonly #effort: Uint8Array;
  readonly #fields: readonly (LeadField | null)[];
  readonly #buildings: readonly Outline[];
  readonly #input: TrenchInput & { readonly elevation: Grid };
  readonly #ground: Pick<ForbiddenGround, 'mesh' | 'inLot'>;
  readonly #roofs: readonly RoofPart[];
  readonly #reachM: number;

  /**
   * @param roofs - the outlets that may be led.
   * @param reachM - the longest way.
   * Cost: for each outlet the cells within its reach.
   */
  constructor(
    input: TrenchInput & { readonly elevation: Grid },
    ground: Pick<ForbiddenGround, 'mesh' | 'inLot'>,
    roofs: readonly RoofPart[],
    reachM: number,
  ) {
    this.#input = input;
    this.#ground = ground;
    this.#roofs = roofs;
    this.#reachM = reachM;
    this.#effort = trenchGround(ground, input.plan, input.ruleSet);
    this.#fields = roofs.map(({ at }) =>
      // Ways over the mesh are up to 8 % longer than they will be.
      leadField(ground.mesh, this.#effort, at, 1.09 * reachM),
    );
    this.#buildings = input.plan.of.building.map((building) => outlineOf(building.shape));
  }

  /** About how far a roof's water would have to be led to a point, and how far down; `null` where it cannot be. */
  estimate(roof: number, x: number, y: number): { distanceM: number; fallM: number } | null {
    const field = this.#fields[roof];
    const cell = meshCellAt(this.#ground.mesh, x, y);
    if (field === null || cell === -1) return null;
    const [fromX, fromY] = this.#roofs[roof].at;
    const distanceM = Math.max(field.lengthM[cell] * 0.96, Math.hypot(x - fromX, y - fromY));
    if (!(distanceM <= this.#reachM)) return null;
    const fallM =
      heightAt(this.#input.elevation, [fromX, fromY]) - heightAt(this.#input.elevation, [x, y]);
    return fallM >= leadFall * distanceM ? { distanceM, fallM } : null;
  }

  /** The way of a roof's water to a rim, `null` when there is none. */
  to(roof: number, rim: readonly XY[]): LeadIn | null {
    const { id, at } = this.#roofs[roof];
    const end = nearestOf(rim, at);
    if (distanceM(at, end) > this.#reachM) return null;
    return this.#along(id, [at, end]) ?? this.#around(roof, rim);
  }

  #around(roof: number, rim: readonly XY[]): LeadIn | null {
    const { mesh } = this.#ground;
    const field = this.#fields[roof];
    if (field === null) return null;
    let end = rim[0];
    let cell = -1;
    for (const corner of rim) {
      const at = meshCellAt(mesh, corner[0], corner[1]);
      if (at === -1 || field.effortM[at] === Infinity) continue;
      if (cell === -1 || field.effortM[at] < field.effortM[cell]) {
        cell = at;
        end = corner;
      }
    }
    if (cell === -1) return null;
    const { id, at } = this.#roofs[roof];
    const way = [at, ...wayTo(mesh, field, cell), end];
    return this.#along(id, this.#pulledTight(way));
  }

  /** A way over cells with the corners that are not needed left out: shorter, and no more effort. */
  #pulledTight(way: readonly XY[]): XY[] {
    const tight: XY[] = [way[0]];
    // An outlet drawn inside the wall has no open leg to start with.
    let at = this.#effortAlong(way[0], way[1]) === Infinity ? 1 : 0;
    if (at === 1) tight.push(way[1]);
    while (at < way.length - 1) {
      let next = at + 1;
      let sum = this.#effortAlong(way[at], way[next]);
      for (let far = at + 2; far < way.length && sum < Infinity; far++) {
        sum += this.#effortAlong(way[far - 1], way[far]);
        const straight = this.#effortAlong(way[at], way[far]);
        if (straight < Infinity && !isMore(straight, sum)) next = far;
      }
      tight.push(way[next]);
      at = next;
    }
    return tight;
  }

  /** Effort of a straight leg, `Infinity` where it runs into something. */
  #effortAlong(a: XY, b: XY): number {
    const legM = distanceM(a, b);
    const steps = Math.max(1, Math.ceil(legM / (this.#ground.mesh.cellM / 3)));
    let sum = 0;
    for (let k = 0; k < steps; k++) {
      const t = (k + 0.5) / steps;
      const x = a[0] + t * (b[0] - a[0]);
      const y = a[1] + t * (b[1] - a[1]);
      const cell = meshCellAt(this.#ground.mesh, x, y);
      const effort = cell === -1 ? 0 : this.#effort[cell];
      if (effort === 0) return Infinity;
      sum += (effort * legM) / steps;
    }
    return this.#isClear([a, b]) ? sum : Infinity;
  }

  /** Whether a line meets no building: the mesh alone would let it cut a corner. */
  #isClear(points: readonly XY[]): boolean {
    const line = outlineOf({ type: 'line', points });
    return this.#buildings.every((building) => sharedPoint(line, building) === undefined);
  }

  /** A route judged: its fall, the ground over it, what is in the ground. */
  #along(roof: string, route: readonly XY[]): LeadIn | null {
    const totalM = lengthM(route);
    if (totalM > this.#reachM) return null;
    const { elevation } = this.#input;
    const end = route[route.length - 1];
    const rimM = heightAt(elevation, end);
    const fallM = heightAt(elevation, route[0]) - rimM;
    if (!(fallM >= leadFall * totalM)) return null;
    const deepest_m = this.#coverOver(route, totalM, rimM, fallM);
    if (deepest_m === null || !this.#isOpen(route)) return null;
    const trench = trenchFindings(this.#input, route);
    if (trench === null) return null;
    return {
      roof,
      distance_m: totalM,
      fall_m: fallM,
      fall_ratio: totalM > 0 ? fallM / totalM : 0,
      deepest_m,
      route,
      trench,
    };
  }

  /** Most ground over an even fall along a route; `null` where the ground dips below a pipe at the least fall. */
  #coverOver(route: readonly XY[], totalM: number, rimM: number, fallM: number): number | null {
    let deepestM = 0;
    let walkedM = 0;
    for (let i = 1; i < route.length; i++) {
      const [ax, ay] = route[i - 1];
      const [bx, by] = route[i];
      const legM = Math.hypot(bx - ax, by - ay);
      const steps = Math.max(1, Math.ceil(legM / stepM));
      for (let k = 1; k <= steps; k++) {
        const t = k / steps;
        const groundM = heightAt(this.#input.elevation, [ax + t * (bx - ax), ay + t * (by - ay)]);
        const leftM = totalM - walkedM - t * legM;
        if (groundM < rimM + leadFall * leftM - dipM) return null;
        deepestM = Math.max(deepestM, groundM - (rimM + (fallM * leftM) / totalM));
      }
      walkedM += legM;
    }
    return deepestM;
  }

  /**
   * Whether a route keeps to ground that can be dug, by the mesh and clear of walls exactly, but for its start: outlets
   * are drawn by hand, and may lie in the wall.
   */
  #isOpen(route: readonly XY[]): boolean {
    const { mesh } = this.#ground;
    const open = without(route, insideWallM + mesh.cellM);
    for (let i = 1; i < open.length; i++) {
      const [ax, ay] = open[i - 1];
      const [bx, by] = open[i];
      const steps = Math.max(1, Math.ceil((3 * Math.hypot(bx - ax, by - ay)) / mesh.cellM));
      for (let k = 0; k < steps; k++) {
        const t = (k + 0.5) / steps;
        const cell = meshCellAt(mesh, ax + t * (bx - ax), ay + t * (by - ay));
        if (cell === -1 || this.#effort[cell] === 0) return false;
      }
    }
    return open.length < 2 || this.#isClear(open);
  }
}

/** A route without its first metres; no points when it is not longer. */
function without(route: readonly XY[], firstM: number): XY[] {
  let leftM = firstM;
  for (let i = 1; i < route.length; i++) {
    const legM = distanceM(route[i - 1], route[i]);
    if (legM > leftM) {
      const t = leftM / legM;
      const [ax, ay] = route[i - 1];
      const [bx, by] = route[i];
      return [[ax + t * (bx - ax), ay + t * (by - ay)], ...route.slice(i)];
    }
    leftM -= legM;
  }
  return [];
}

function nearestOf(rim: readonly XY[], to: XY): XY {
  let best = rim[0];
  for (const at of rim) if (distanceM(at, to) < distanceM(best, to)) best = at;
  return best;
}

import type { ShapedGround } from '../drainage/storm/shaped-ground';
import { flowPath } from '../drainage/terrain/flow-path';
import type { Grid } from '../elevation/grid';
import type { Frame, LngLat, XY } from '../frame/frame';
import type { LocalPlan } from '../plan/local-plan';
import type { PlanFeature } from '../plan/schema';
import { clearLocates, type ClearLocate } from '../setback/locate/locates';
import type { RuleSet } from '../setback/rules/rule';
import type { Hollow } from './hollows';
import { ditchGround, type DitchGround } from './route/ditch-ground';

/** What every kind of remedy looks at. */
export interface SiteInput {
  /** Heights as read. */
  readonly elevation: Grid;
  readonly plan: LocalPlan;
  /** The ground of the plan. Its buffers must be its own as long as the site is used. */
  readonly shape: ShapedGround;
  readonly hollows: readonly Hollow[];
  readonly ruleSet: RuleSet;
  /** ISO date on which locates must be current. */
  readonly today: string;
}

/** The lot, its ground and the waters at its walls. */
export class RemedySite {
  readonly elevation: Grid;
  readonly plan: LocalPlan;
  readonly shape: ShapedGround;
  readonly hollows: readonly Hollow[];
  readonly ruleSet: RuleSet;
  readonly today: string;
  readonly locates: readonly ClearLocate[];
  #ditch: DitchGround | null = null;
  readonly #courses = new Map<number, string | null>();
  readonly #basinOf: Int16Array;
  readonly #hollowOf: Int16Array;

  constructor(input: SiteInput) {
    this.elevation = input.elevation;
    this.plan = input.plan;
    this.shape = input.shape;
    this.hollows = input.hollows;
    this.ruleSet = input.ruleSet;
    this.today = input.today;
    this.locates = clearLocates(input.plan);
    const { grid, basins } = input.shape.ground;
    this.#basinOf = new Int16Array(grid.z.length).fill(-1);
    basins.forEach(({ cells }, i) => {
      for (const cell of cells) this.#basinOf[cell] = i;
    });
    this.#hollowOf = new Int16Array(grid.z.length).fill(-1);
    input.hollows.forEach(({ cells }, i) => {
      for (const cell of cells) this.#hollowOf[cell] = i;
    });
  }

  get frame(): Frame {
    return this.plan.frame;
  }

  /** The ground as ditches and pipes see it; looked at when first asked for. */
  get ditch(): DitchGround {
    this.#ditch ??= ditchGround(this.elevation, this.plan, this.shape.ground, this.ruleSet);
    return this.#ditch;
  }

  /**
   * What becomes of water put down at a cell, as the ground is now: 'basin' and its id, 'lot' and the id of the lot
   * that it crosses to, 'off' where that is on no lot, 'stays' where it comes to the map's end on the lot; `null`
   * where it comes to a wall's water.
   */
  courseFrom(cell: number): string | null {
    const known = this.#courses.get(cell);
    if (known !== undefined) return known;
    const course = this.#courseFrom(cell);
    this.#courses.set(cell, course);
    return course;
  }

  /** The first of the waters at walls that comes to from a cell; -1 for none. */
  hollowFrom(cell: number): number {
    const { cells } = flowPath(this.shape.routing, cell);
    for (const at of cells) if (this.#hollowOf[at] !== -1) return this.#hollowOf[at];
    return -1;
  }

  #courseFrom(from: number): string | null {
    const { lots, lotOf, basins } = this.shape.ground;
    for (const cell of flowPath(this.shape.routing, from).cells) {
      if (this.#hollowOf[cell] !== -1) return null;
      if (this.#basinOf[cell] !== -1) return `basin ${basins[this.#basinOf[cell]].id}`;
      const lot = lotOf[cell];
      if (lot === -1) return 'off';
      if (!lots[lot].own) return `lot ${lots[lot].id}`;
    }
    return 'stays';
  }

  lngLat(points: readonly XY[]): LngLat[] {
    return points.map((at) => this.frame.toLngLat(at));
  }

  /** A line that is to come. */
  line(id: string, points: readonly XY[], properties: object): PlanFeature {
    return made(id, { type: 'LineString', coordinates: this.lngLat(points) }, properties);
  }

  /** A polygon that is to come. */
  polygon(id: string, ring: readonly XY[], properties: object): PlanFeature {
    const corners = this.lngLat(ring);
    return made(id, { type: 'Polygon', coordinates: [[...corners, corners[0]]] }, properties);
  }

  /** A point that is to come. */
  point(id: string, at: XY, properties: object): PlanFeature {
    return made(id, { type: 'Point', coordinates: this.frame.toLngLat(at) }, properties);
  }
}

function made(id: string, geometry: object, properties: object): PlanFeature {
  // What is made here is made whole; tests read it back through the schema.
  return {
    type: 'Feature',
    id,
    geometry,
    properties: { ...properties, state: 'proposed' },
  } as PlanFeature;
}

/** The same feature with other properties. */
export function changed<F extends PlanFeature>(feature: F, properties: object): F {
  return { ...feature, properties: { ...feature.properties, ...properties } };
}

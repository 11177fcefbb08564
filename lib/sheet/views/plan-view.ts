import type { XY } from '../../frame/frame';
import { boundsOf, verticesOf, type Bounds, type Ring, type Rings } from '../../frame/shapes';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import type { At, Rect, Run } from '../drawing/mark';

/** Ground drawn true to scale in a field of the paper, north up unless it is turned. */
export class PlanView {
  readonly rect: Rect;
  /** Ground metres for one of paper. */
  readonly ratio: number;
  /** By how much the ground is turned on the paper, radians counter-clockwise. */
  readonly turn: number;
  readonly #centre: XY;

  /** @param centre - the ground in the middle of the field. */
  constructor(rect: Rect, ratio: number, centre: XY, turn = 0) {
    this.rect = rect;
    this.ratio = ratio;
    this.turn = turn;
    this.#centre = centre;
  }

  /** A place of the ground on the paper. */
  at([x, y]: XY): At {
    const { rect, ratio, turn } = this;
    const scale = 1000 / ratio;
    const [east, north] = [x - this.#centre[0], y - this.#centre[1]];
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    return [
      rect.x + rect.width / 2 + (east * c - north * s) * scale,
      rect.y + rect.height / 2 - (east * s + north * c) * scale,
    ];
  }

  run(points: readonly XY[]): Run {
    return points.map((point) => this.at(point));
  }

  closed(ring: Ring): Run {
    return this.run([...ring, ring[0]]);
  }

  rings(rings: Rings): Run[] {
    return rings.map((ring) => this.run(ring));
  }

  /** A length of the ground on the paper, millimetres. */
  mm(metres: number): number {
    return (1000 * metres) / this.ratio;
  }

  /** The ground that the field shows, and some beside it where it is turned. */
  get ground(): Bounds {
    const { rect, ratio, turn } = this;
    const [c, s] = [Math.abs(Math.cos(turn)), Math.abs(Math.sin(turn))];
    const halfX = ((rect.width * c + rect.height * s) * ratio) / 2000;
    const halfY = ((rect.width * s + rect.height * c) * ratio) / 2000;
    const [x, y] = this.#centre;
    return { west: x - halfX, east: x + halfX, south: y - halfY, north: y + halfY };
  }

  /** Whether any of it may be seen. */
  shows(points: readonly XY[]): boolean {
    const { west, south, east, north } = boundsOf(points);
    const { ground } = this;
    return (
      west <= ground.east && east >= ground.west && south <= ground.north && north >= ground.south
    );
  }
}

/** The ground that features take up, and so many metres around them. */
export function groundOf(
  features: readonly { readonly shape: Parameters<typeof verticesOf>[0] }[],
  aroundM = 0,
): Bounds | null {
  const points = features.flatMap(({ shape }) => verticesOf(shape));
  if (points.length === 0) return null;
  const { west, south, east, north } = boundsOf(points);
  return {
    west: west - aroundM,
    south: south - aroundM,
    east: east + aroundM,
    north: north + aroundM,
  };
}

export function middleOf({ west, south, east, north }: Bounds): XY {
  return [(west + east) / 2, (south + north) / 2];
}

/** What a plan of the lot shows: the own lot, else what is built and dug, else everything. */
export function shownFeatures({
  lot,
  plan,
}: {
  readonly lot: LocalFeature<'lot'> | null;
  readonly plan: LocalPlan;
}): readonly LocalFeature[] {
  if (lot !== null) return [lot];
  const built = [...plan.of.building, ...plan.of.basin];
  return built.length > 0 ? built : [...plan.byId.values()];
}

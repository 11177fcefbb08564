import { cellCentre } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { areaM2, distanceM, type Ring } from '../../frame/shapes';
import type { PipeOutlet } from '../../ground/conduits';
import type { Ground } from '../../ground/ground';
import { openCellAt, openCellNear } from '../../ground/open-ground';
import { cellsAlong } from '../../ground/rasterise';
import type { LocalFeature, LocalPlan } from '../../plan/local-plan';
import { roofSides } from './roof-sides';
import type { RoofOutlet } from './roof-outlet';
import { withSoakaways } from './soakaway-room';
import { uncoveredM2 } from './uncovered';

export interface RoofWater {
  readonly outlets: readonly RoofOutlet[];
  /** What had to be assumed, in the user's words. */
  readonly notes: readonly string[];
}

/**
 * Shares each roof among its downspouts and finds where their water reaches the ground.
 *
 * Given shares are used as they are; downspouts without one divide what is left by the length of eave that is
 * nearest to each. A ridge divides a roof: each side drains to the downspouts on its side, and given shares, which are
 * of the whole roof, count within it. A roof or a side without downspouts drips off along its eaves. An outlet under a building is moved
 * to the nearest open ground. Soakaways take what they have room for first. Gutters are taken to hold the storm: overflowing ones are not modelled.
 *
 * The plan area of a roof is what catches rain, whatever its pitch.
 */
export function roofWater(ground: Ground, plan: LocalPlan): RoofWater {
  const notes: string[] = [];
  const outlets: RoofOutlet[] = [];
  for (const roof of roofsOf(plan)) {
    const own = plan.of.downspout.filter(({ feature }) => feature.properties.roof === roof.id);
    const sides = roof.ridge === undefined ? null : roofSides(roof.outline, roof.ridge);
    if (roof.ridge !== undefined && sides === null) {
      notes.push(`The ridge of ${roof.id} does not divide the roof and is left out.`);
    }
    const parts: RoofPart[] = sides?.map((side) => ({
      ...side,
      roof,
      downspouts: own.filter(({ shape }) => side.has(shape.at)),
    })) ?? [{ areaM2: roof.areaM2, has: () => true, roof, downspouts: own }];
    for (const part of parts) outlets.push(...drainPart(ground, part, notes));
  }
  if (outlets.some(({ downspout }) => downspout !== null)) {
    notes.push('Gutters and downspouts are taken to carry the whole storm: none overflows.');
  }
  const led = withSoakaways(outlets, plan);
  return { outlets: led.outlets, notes: [...notes, ...led.notes] };
}

/** A roof, or what lies on one side of its ridge. */
interface RoofPart {
  readonly roof: RoofOutline;
  readonly areaM2: number;
  readonly has: (at: XY) => boolean;
  readonly downspouts: readonly LocalFeature<'downspout'>[];
}

function drainPart(ground: Ground, part: RoofPart, notes: string[]): RoofOutlet[] {
  const { roof, downspouts } = part;
  if (downspouts.length === 0) {
    const cells = eaves(ground, roof.outline, part.has);
    return [
      {
        roof: roof.id,
        downspout: null,
        areaM2: part.areaM2,
        to: cells.length === 0 ? 'off-map' : 'ground',
        cells,
        barrelM3: 0,
        pipe: null,
        overCells: new Int32Array(),
      },
    ];
  }
  const shares = shareOut(part);
  const sum = shares.reduce((total, share) => total + share, 0);
  if (Math.abs(sum - 1) > 0.01) {
    const of = part.areaM2 < roof.areaM2 ? `one side of ${roof.id}` : roof.id;
    notes.push(
      `The shares of the downspouts of ${of} add up to ${Math.round(sum * 100)} %; they were scaled to 100 %.`,
    );
  }
  return downspouts.map((downspout, i) => ({
    roof: roof.id,
    downspout: downspout.id,
    areaM2: part.areaM2 * (sum > 0 ? shares[i] / sum : 1 / downspouts.length),
    barrelM3: downspout.feature.properties.barrel_m3 ?? 0,
    ...wayOut(ground, downspout, notes),
  }));
}

/** Where a downspout's water goes: by its pipe when that is open, else at its outlet. */
function wayOut(
  ground: Ground,
  downspout: LocalFeature<'downspout'>,
  notes: string[],
): Pick<RoofOutlet, 'to' | 'cells' | 'pipe' | 'overCells'> {
  const name = downspout.feature.properties.pipe;
  const pipe = name === undefined ? undefined : ground.pipes.get(name);
  if (name !== undefined && (pipe === undefined || pipe.blocked)) {
    notes.push(
      pipe === undefined
        ? `${downspout.id} names the drain pipe ${name}, which is not in the plan.`
        : `The drain pipe ${name} is blocked: ${downspout.id} empties onto the ground.`,
    );
  }
  const isPiped = pipe !== undefined && !pipe.blocked;
  const { outlet } = downspout;
  const own: PipeOutlet =
    outlet === 'storm-sewer' ? outlet : cellOrOffMap(openCellAt(ground, outlet));
  const way = isPiped ? pipe.outlet : own;
  if (way === 'off-map') {
    notes.push(
      `The outlet of ${downspout.id} lies outside the elevation data; its water is not followed.`,
    );
  }
  const over = isPiped ? openCellAt(ground, downspout.shape.at) : -1;
  return {
    to: typeof way === 'number' ? 'ground' : way,
    cells: Int32Array.from(typeof way === 'number' ? [way] : []),
    pipe: isPiped ? pipe.id : null,
    overCells: Int32Array.from(over === -1 ? [] : [over]),
  };
}

function cellOrOffMap(cell: number): PipeOutlet {
  return cell === -1 ? 'off-map' : cell;
}

interface RoofOutline {
  readonly id: string;
  readonly outline: Ring;
  readonly areaM2: number;
  readonly ridge: readonly XY[] | undefined;
}

/**
 * The roofs drawn, and each building that none of them names, with so much of its area as none of them covers: a roof
 * that does not say whose it is must not catch the same rain twice.
 */
export function roofsOf(plan: LocalPlan): RoofOutline[] {
  const roofs = plan.of.roof;
  const named = new Set(roofs.map((roof) => roof.feature.properties.building));
  const bare = plan.of.building.filter((building) => !named.has(building.id));
  return [
    ...roofs.map(({ id, shape, ridge }) => ({
      id,
      outline: shape.rings[0],
      areaM2: areaM2(shape.rings),
      ridge,
    })),
    ...bare
      .map(({ id, shape }) => ({
        id,
        outline: shape.rings[0],
        areaM2: uncoveredM2(
          shape.rings,
          roofs.map((roof) => roof.shape.rings),
        ),
        ridge: undefined,
      }))
      .filter((building) => building.areaM2 >= leastBareM2),
  ];
}

/** Walls that look out from under a roof drawn over them by less than this are not looked at, m2. Our choice, no source. */
const leastBareM2 = 1;

/** The share of its part of the roof that each downspout has: as given, or by the length of eave that is nearest to it. */
function shareOut({ roof, areaM2: partM2, has, downspouts }: RoofPart): number[] {
  const given = downspouts.map(({ feature }) => {
    const { share } = feature.properties;
    return share === undefined ? undefined : (share * roof.areaM2) / partM2;
  });
  const open = downspouts.filter((_, i) => given[i] === undefined);
  if (open.length === 0) return given.map((share) => share ?? 0);
  const left = Math.max(0, 1 - given.reduce((sum: number, share) => sum + (share ?? 0), 0));
  const lengths = new Map(open.map((downspout) => [downspout.id, 0]));
  let whole = 0;
  for (const [at, stepM] of alongOutline(roof.outline)) {
    if (!has(at)) continue;
    let nearest = open[0];
    for (const downspout of open) {
      if (distanceM(downspout.shape.at, at) < distanceM(nearest.shape.at, at)) nearest = downspout;
    }
    lengths.set(nearest.id, (lengths.get(nearest.id) ?? 0) + stepM);
    whole += stepM;
  }
  return downspouts.map(
    (downspout, i) => given[i] ?? (left * (lengths.get(downspout.id) ?? 0)) / whole,
  );
}

/** Points every quarter of a metre or so along an outline, each with the length it stands for. */
function* alongOutline(outline: Ring): Generator<[XY, number]> {
  for (let i = 0; i < outline.length; i++) {
    const from = outline[i];
    const to = outline[(i + 1) % outline.length];
    const length = distanceM(from, to);
    const pieces = Math.ceil(length / 0.25);
    for (let piece = 0; piece < pieces; piece++) {
      const t = (piece + 0.5) / pieces;
      yield [[from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])], length / pieces];
    }
  }
}

/** How far eaves may stand over walls, cells. Our choice, no source. */
const eavesReachCells = 3;

/** Open ground just outside the part of an outline that is asked for. */
function eaves(ground: Ground, outline: Ring, has: (at: XY) => boolean): Int32Array<ArrayBuffer> {
  const found = new Set<number>();
  for (const cell of cellsAlong(ground.grid, [...outline, outline[0]], { bothSides: true })) {
    if (!has(cellCentre(ground.grid, cell))) continue;
    const open = openCellNear(ground, cell, eavesReachCells);
    if (open !== -1) found.add(open);
  }
  return Int32Array.from(found);
}

import { buildTerrain, type Terrain } from '../../../lib/drainage/terrain/terrain';

/** Ground whose water runs in straight lines, so that anybody can say where it goes. Metres from the middle, y southwards. */
export interface StraightSurface {
  readonly name: string;
  readonly heightAt: (x: number, y: number) => number;
  /** The way down, of length 1. */
  readonly downAt: (x: number, y: number) => readonly [number, number];
  /** How far water runs from a point before it is in the middle of a bowl. */
  readonly runM: (x: number, y: number) => number;
  /** Middle of what is asked about. */
  readonly middle: readonly [number, number];
}

/** Side of the made-up grounds, metres. */
export const sideM = 100;
const slope = 0.03;

/** Plane, cone, dome, and bowls, with the place asked about at a bearing clockwise from east. */
export function straightSurfaces(degrees: number): StraightSurface[] {
  const right = Math.cos((degrees * Math.PI) / 180);
  const down = Math.sin((degrees * Math.PI) / 180);
  // no centre of a cell, nor a corner
  const [apexX, apexY] = [0.13, -0.21] as const;
  const radius = (x: number, y: number): number => Math.hypot(x - apexX, y - apexY);
  const outwards = (x: number, y: number): [number, number] => [
    (x - apexX) / radius(x, y),
    (y - apexY) / radius(x, y),
  ];
  const inwards = (x: number, y: number): [number, number] => {
    const [outX, outY] = outwards(x, y);
    return [-outX, -outY];
  };
  const at = (r: number): [number, number] => [r * right, r * down];
  const endless = (): number => Infinity;
  const height = {
    plane: (x: number, y: number) => 10 - slope * (x * right + y * down),
    cone: (x: number, y: number) => 10 - slope * radius(x, y),
    dome: (x: number, y: number) => 10 - (slope * radius(x, y) ** 2) / sideM,
    funnel: (x: number, y: number) => 10 + slope * radius(x, y),
    bowl: (x: number, y: number) => 10 + (slope * radius(x, y) ** 2) / sideM,
  };
  const alongPlane = (): [number, number] => [right, down];
  return [
    { name: 'plane', heightAt: height.plane, downAt: alongPlane, runM: endless, middle: at(20.2) },
    { name: 'cone', heightAt: height.cone, downAt: outwards, runM: endless, middle: at(35.2) },
    { name: 'dome', heightAt: height.dome, downAt: outwards, runM: endless, middle: at(35.2) },
    { name: 'funnel', heightAt: height.funnel, downAt: inwards, runM: radius, middle: at(18.2) },
    { name: 'bowl', heightAt: height.bowl, downAt: inwards, runM: radius, middle: at(18.2) },
  ];
}

/** Places that are asked about, around the middle of a surface: a lot of 20 m, a basin 5 m across, a line of 15 m north to south. */
export const places = ['lot', 'basin', 'line'] as const;
export type Place = (typeof places)[number];

const lotM = 20;
const basinRadiusM = 2.5;
const lineM = 15;

/** A ground cut into cells, with the places as masks; the line runs along the western side of its cells. */
export interface CutSurface {
  readonly surface: StraightSurface;
  readonly side: number;
  readonly cellM: number;
  readonly terrain: Terrain;
  readonly masks: Readonly<Record<Place, Uint8Array>>;
}

export function cutSurface(
  surface: StraightSurface,
  cellM: number,
  noise: (i: number) => number = () => 0,
): CutSurface {
  const side = Math.round(sideM / cellM);
  const at = (index: number): number => (index + 0.5) * cellM - sideM / 2;
  const maskOf = (isIn: (x: number, y: number) => boolean): Uint8Array =>
    Uint8Array.from({ length: side * side }, (_, i) =>
      isIn(at(i % side) - middleX, at(Math.floor(i / side)) - middleY) ? 1 : 0,
    );
  const z = Float32Array.from(
    { length: side * side },
    (_, i) => surface.heightAt(at(i % side), at(Math.floor(i / side))) + noise(i),
  );
  const [middleX, middleY] = surface.middle;
  return {
    surface,
    side,
    cellM,
    terrain: buildTerrain(z, side, side),
    masks: {
      lot: maskOf((x, y) => Math.max(Math.abs(x), Math.abs(y)) < lotM / 2),
      basin: maskOf((x, y) => Math.hypot(x, y) < basinRadiusM),
      line: maskOf((x, y) => Math.abs(y) < lineM / 2 && x >= 0 && x < cellM),
    },
  };
}

/** Whether the straight way from a point, relative to the middle, meets a place. */
const meets: Record<
  Place,
  (x: number, y: number, right: number, down: number, runM: number) => boolean
> = {
  lot: (x, y, right, down, runM) => {
    const [fromX, toX] = within(x, right, lotM / 2);
    const [fromY, toY] = within(y, down, lotM / 2);
    return Math.max(fromX, fromY, 0) < Math.min(toX, toY, runM);
  },
  basin: (x, y, right, down, runM) => {
    const along = Math.min(runM, Math.max(0, -(x * right + y * down)));
    return Math.hypot(x + along * right, y + along * down) < basinRadiusM;
  },
  line: (x, y, right, down, runM) => {
    const along = -x / right;
    return along > 0 && along < runM && Math.abs(y + along * down) < lineM / 2;
  },
};

/** Between which lengths of the way a coordinate stays within `half` of 0. */
function within(from: number, step: number, half: number): [number, number] {
  if (step === 0) return Math.abs(from) < half ? [-Infinity, Infinity] : [0, 0];
  const [one, other] = [(-half - from) / step, (half - from) / step];
  return [Math.min(one, other), Math.max(one, other)];
}

/** Part of each cell whose water comes to a place, from `3 x 3` points; the border, which drains off the map, gives nothing. */
export function exactShares({ surface, side, cellM }: CutSurface, place: Place): Float64Array {
  const parts = 3;
  const [middleX, middleY] = surface.middle;
  return Float64Array.from({ length: side * side }, (_, i) => {
    const column = i % side;
    const row = Math.floor(i / side);
    if (Math.min(column, row, side - 1 - column, side - 1 - row) === 0) return 0;
    let reach = 0;
    for (let part = 0; part < parts * parts; part++) {
      const x = (column + ((part % parts) + 0.5) / parts) * cellM - sideM / 2;
      const y = (row + (Math.floor(part / parts) + 0.5) / parts) * cellM - sideM / 2;
      const [right, down] = surface.downAt(x, y);
      const isMet = meets[place](x - middleX, y - middleY, right, down, surface.runM(x, y));
      if (isMet) reach++;
    }
    return reach / (parts * parts);
  });
}

import type { At, Run } from './mark';

/** Parallel lines that fill an area. Real lines, so that screen, paper and other programs show the same. */
export interface Hatch {
  /** Of the lines, degrees counter-clockwise from the right of the paper. */
  readonly angleDeg: number;
  readonly pitchMm: number;
  /** Where given, lines that are longer are drawn at their ends alone: a band along the edge. */
  readonly bandMm?: number;
}

type Stretch = readonly [from: number, to: number];

/**
 * The lines of a hatch inside all of the areas given.
 *
 * They lie at multiples of the pitch from the paper's corner, so that hatches of one kind that overlap coincide and do not
 * thicken.
 *
 * @param areas - each a list of rings, inside by counting crossings.
 * Cost: lines times edges.
 */
export function hatchLines(areas: readonly (readonly Run[])[], hatch: Hatch): Run[] {
  const turn = (-hatch.angleDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  // Along the lines, across them.
  const turned = areas.map((rings) =>
    rings.map((ring) => ring.map(([x, y]): At => [x * c + y * s, y * c - x * s])),
  );
  const across = turned[0].flat().map(([, v]) => v);
  if (across.length === 0) return [];
  const [low, high] = [least(across), -least(across.map((v) => -v))];
  const lines: Run[] = [];
  const { pitchMm, bandMm = Infinity } = hatch;
  for (let step = Math.ceil(low / pitchMm); step * pitchMm <= high; step++) {
    // A hair aside, so that no line runs through a corner.
    const v = step * pitchMm + 1e-7;
    const stretches = turned
      .map((rings) => inside(rings, v))
      .reduce((both, next) => overlap(both, next));
    for (const [from, to] of stretches) {
      for (const [start, end] of ends(from, to, bandMm)) {
        lines.push([
          [start * c - v * s, start * s + v * c],
          [end * c - v * s, end * s + v * c],
        ]);
      }
    }
  }
  return lines;
}

/** Shorter pieces are specks, millimetres. */
const speckMm = 0.05;

function ends(from: number, to: number, bandMm: number): Stretch[] {
  if (to - from < speckMm) return [];
  if (to - from <= 2.5 * bandMm) return [[from, to]];
  return [
    [from, from + bandMm],
    [to - bandMm, to],
  ];
}

/** Points of a lattice inside an area: a dotted hatch. */
export function hatchDots(rings: readonly Run[], pitchMm: number): At[] {
  const dots: At[] = [];
  const ys = rings.flat().map(([, y]) => y);
  if (ys.length === 0) return dots;
  const last = -least(ys.map((y) => -y));
  for (let row = Math.ceil(least(ys) / pitchMm); row * pitchMm <= last; row++) {
    const y = row * pitchMm + 1e-7;
    const aside = row % 2 === 0 ? 0 : 0.5;
    for (const [from, to] of inside(rings, y)) {
      for (let k = Math.ceil(from / pitchMm - aside); (k + aside) * pitchMm <= to; k++) {
        dots.push([(k + aside) * pitchMm, y]);
      }
    }
  }
  return dots;
}

/** Where a level line lies inside rings. */
function inside(rings: readonly Run[], v: number): Stretch[] {
  const crossings: number[] = [];
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [ax, ay] = ring[i];
      const [bx, by] = ring[j];
      if (ay > v !== by > v) crossings.push(ax + ((v - ay) * (bx - ax)) / (by - ay));
    }
  }
  crossings.sort((a, b) => a - b);
  const stretches: Stretch[] = [];
  for (let i = 0; i + 1 < crossings.length; i += 2) {
    stretches.push([crossings[i], crossings[i + 1]]);
  }
  return stretches;
}

function overlap(a: readonly Stretch[], b: readonly Stretch[]): Stretch[] {
  return a.flatMap(([from, to]) =>
    b.flatMap(([start, end]): Stretch[] => {
      const stretch: Stretch = [Math.max(from, start), Math.min(to, end)];
      return stretch[1] > stretch[0] ? [stretch] : [];
    }),
  );
}

function least(values: readonly number[]): number {
  return values.reduce((low, value) => Math.min(low, value), Infinity);
}

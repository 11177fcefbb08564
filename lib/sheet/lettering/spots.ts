import { areaM2, boundsOf, centroid, contains, distanceM } from '../../frame/shapes';
import type { At, Run } from '../drawing/mark';
import type { Spot } from './lettering';

/** Directions that leaders go, to the right first, then the left, up and down, and between. */
const directions = [-30, 30, 150, -150, -60, 60, 120, -120, 0, 180, -90, 90];

/** Spots around a thing: near ones without a leader, then farther ones with. */
export function* aroundSpots(
  at: At,
  halfWidthMm: number,
  options: { readonly nearMm?: number; readonly reachMm?: readonly number[] } = {},
): Generator<Spot> {
  const { nearMm, reachMm = [7, 11, 16, 22, 30, 40] } = options;
  if (nearMm !== undefined) {
    yield { centre: [at[0] + nearMm + halfWidthMm, at[1]] };
    yield { centre: [at[0] - nearMm - halfWidthMm, at[1]] };
    yield { centre: [at[0], at[1] - nearMm - 1.6] };
    yield { centre: [at[0], at[1] + nearMm + 1.6] };
  }
  for (const reach of reachMm) {
    for (const degrees of directions) {
      const turn = (degrees * Math.PI) / 180;
      const end: At = [at[0] + reach * Math.cos(turn), at[1] + reach * Math.sin(turn)];
      const side = Math.abs(degrees) === 90 ? 0 : Math.cos(turn) > 0 ? 1 : -1;
      const aside = side === 0 ? 0 : side * (halfWidthMm + 0.6);
      const down = side === 0 ? Math.sign(Math.sin(turn)) * 2.4 : 0;
      yield { centre: [end[0] + aside, end[1] + down], leader: [at, end] };
    }
  }
}

/** Spots inside an area: its middle first, then places of a lattice, those near the middle first. */
export function insideSpots(rings: readonly Run[], everyMm = 3): Spot[] {
  if (rings.length === 0 || areaM2(rings) === 0) return [];
  const { west, south, east, north } = boundsOf(rings[0]);
  const middle = centroid(rings);
  const places: At[] = contains(rings, middle) ? [middle] : [];
  const stepMm = Math.max(everyMm, Math.max(east - west, north - south) / 24);
  for (let y = south + stepMm / 2; y < north; y += stepMm) {
    for (let x = west + stepMm / 2; x < east; x += stepMm) {
      if (contains(rings, [x, y])) places.push([x, y]);
    }
  }
  return places
    .sort((a, b) => distanceM(a, middle) - distanceM(b, middle))
    .map((centre) => ({ centre }));
}

/** Spots on a line, turned along it, read from below or the right: the middle first. */
export function alongSpots(run: Run, options: { asideMm?: number; everyMm?: number } = {}): Spot[] {
  const { asideMm = 0, everyMm = 6 } = options;
  const lengths = run.slice(1).map((at, i) => distanceM(run[i], at));
  const total = lengths.reduce((sum, each) => sum + each, 0);
  const count = Math.max(1, Math.floor(total / everyMm));
  const stations = Array.from({ length: count }, (_, i) => ((i + 0.5) * total) / count).sort(
    (a, b) => Math.abs(a - total / 2) - Math.abs(b - total / 2),
  );
  return stations.flatMap((station) => {
    const found = atStation(run, lengths, station);
    if (found === null) return [];
    const turnDeg = readable(found.turnDeg);
    const up = ((turnDeg - 90) * Math.PI) / 180;
    return [asideMm, -asideMm].slice(0, asideMm === 0 ? 1 : 2).map((aside): Spot => {
      const centre: At = [found.at[0] + aside * Math.cos(up), found.at[1] + aside * Math.sin(up)];
      return { centre, turnDeg };
    });
  });
}

/** Place and direction at a distance along a line. */
function atStation(
  run: Run,
  lengths: readonly number[],
  station: number,
): { at: At; turnDeg: number } | null {
  let left = station;
  for (let i = 0; i < lengths.length; i++) {
    if (left <= lengths[i] && lengths[i] > 0) {
      const [[ax, ay], [bx, by]] = [run[i], run[i + 1]];
      const share = left / lengths[i];
      const turnDeg = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
      return { at: [ax + share * (bx - ax), ay + share * (by - ay)], turnDeg };
    }
    left -= lengths[i];
  }
  return null;
}

/** A direction turned so that letters along it are read from below or from the right. */
export function readable(turnDeg: number): number {
  const turn = ((turnDeg % 360) + 360) % 360;
  return turn > 90 && turn <= 270 ? turn - 180 : turn > 270 ? turn - 360 : turn;
}

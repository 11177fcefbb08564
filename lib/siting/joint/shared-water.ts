import { sizeByFactor } from '../../basin/form/size-factors';
import type { SearchedLot } from '../sizing/searched-lot';
import type { Sized } from '../sizing/sized-place';
import { nearestM } from '../sizing/measure-place';
import type { LedRoof } from '../leading/led-roof';
import type { Catch } from '../water/catchments';
import { isMore } from '../rounding';

/** What one of several basins gets and does with it. */
export interface Portion {
  readonly catch: Catch;
  readonly led: readonly LedRoof[];
  /** Ground and roofs whose water comes here before any other basin, m2. */
  readonly catchesM2: number;
  readonly roofM2: number;
  /** Area that the size factors ask for, for that. */
  readonly wantedM2: number;
  readonly inflowM3: number;
  readonly fromOverflowM3: number;
  readonly capturedM3: number;
  readonly overflowM3: number;
  /** Index of the basin that gets most of the overflow, -1 for none. */
  readonly overflowsTo: number;
}

/** How basins share the water. */
export interface SharedWater {
  readonly portions: readonly Portion[];
  /** Indices of the basins, each before those that its overflow comes to. */
  readonly order: readonly number[];
  /** As in `SharedCatch`. */
  readonly onward: readonly (readonly number[])[];
}

/** Ways of giving roofs to basins are all tried up to this many; beyond, each goes where there is most room. */
const waysAtMost = 256;

/**
 * Shares the storm's water among basins: over the ground to the first that it meets, roofs that are led each to the
 * basin where the most is held in all, and what one cannot hold on to the next below it.
 *
 * Cost: k x k sweeps of the ground for k basins.
 */
export function shareWater(searched: SearchedLot, basins: readonly Sized[]): SharedWater {
  const { catchments, roofRunOffM } = searched.input;
  const { catches, onward } = catchments.catchApart(basins.map(({ cells }) => cells));
  const order = basins.map((_, i) => i).sort((a, b) => onward[b][a] - onward[a][b]);
  const roofs = looseRoofs(searched, basins, catches);
  const byItselfM3 = catches.map(({ runOffM3, roofShares }) =>
    catchments.roofs.reduce(
      (sum, roof, i) => sum + roofRunOffM * roof.areaM2 * roofShares[i],
      runOffM3,
    ),
  );
  const route = (goesTo: readonly number[]): Poured =>
    pour(basins, byItselfM3, onward, order, roofs, goesTo, roofRunOffM);
  let best = route(roomiest(basins, byItselfM3, roofs, roofRunOffM));
  for (const goesTo of waysOf(roofs)) {
    const poured = route(goesTo);
    if (isMore(poured.capturedM3, best.capturedM3)) best = poured;
  }
  const portions = basins.map((basin, i) => portion(searched, basin, catches[i], best, i));
  return { portions, order, onward };
}

/** A roof of which some reaches no basin by itself, with the ways to those that it can be led to. */
interface LooseRoof {
  readonly areaM2: number;
  readonly ways: readonly { readonly basin: number; readonly led: LedRoof }[];
}

interface Poured {
  readonly capturedM3: number;
  readonly led: readonly LedRoof[][];
  readonly inflowM3: readonly number[];
  readonly fromOverflowM3: readonly number[];
  readonly heldM3: readonly number[];
  readonly overflowM3: readonly number[];
  readonly overflowsTo: readonly number[];
}

function looseRoofs(
  { input: { catchments }, ownRoofs }: SearchedLot,
  basins: readonly Sized[],
  catches: readonly Catch[],
): LooseRoof[] {
  const loose: LooseRoof[] = [];
  for (const i of ownRoofs) {
    const roof = catchments.roofs[i];
    const arrived = catches.reduce((sum, { roofShares }) => sum + roofShares[i], 0);
    const areaM2 = roof.areaM2 * Math.max(0, 1 - arrived);
    const ways = basins.flatMap(({ led }, basin) =>
      led.filter((way) => way.roof === roof.id).map((way) => ({ basin, led: way })),
    );
    if (areaM2 > 0.001 * roof.areaM2 && ways.length > 0) loose.push({ areaM2, ways });
  }
  return loose;
}

/** Every way of giving roofs to basins, as the index of the way that each takes; none when there are too many. */
function* waysOf(roofs: readonly LooseRoof[]): Generator<number[]> {
  const count = roofs.reduce((product, { ways }) => product * ways.length, 1);
  if (count > waysAtMost) return;
  for (let number = 0; number < count; number++) {
    let rest = number;
    yield roofs.map(({ ways }) => {
      const way = rest % ways.length;
      rest = Math.floor(rest / ways.length);
      return way;
    });
  }
}

function roomiest(
  basins: readonly Sized[],
  byItselfM3: readonly number[],
  roofs: readonly LooseRoof[],
  roofRunOffM: number,
): number[] {
  const roomM3 = basins.map((basin, i) => basin.scored.bowlM3 - byItselfM3[i]);
  const goesTo = roofs.map(() => 0);
  const largestFirst = roofs.map((_, i) => i).sort((a, b) => roofs[b].areaM2 - roofs[a].areaM2);
  for (const i of largestFirst) {
    const { ways, areaM2 } = roofs[i];
    ways.forEach(({ basin }, way) => {
      if (roomM3[basin] > roomM3[ways[goesTo[i]].basin]) goesTo[i] = way;
    });
    roomM3[ways[goesTo[i]].basin] -= roofRunOffM * areaM2;
  }
  return goesTo;
}

function pour(
  basins: readonly Sized[],
  byItselfM3: readonly number[],
  onward: readonly (readonly number[])[],
  order: readonly number[],
  roofs: readonly LooseRoof[],
  goesTo: readonly number[],
  roofRunOffM: number,
): Poured {
  const led: LedRoof[][] = basins.map(() => []);
  const inflowM3 = [...byItselfM3];
  roofs.forEach(({ areaM2, ways }, i) => {
    const way = ways[goesTo[i]];
    led[way.basin].push({ ...way.led, area_m2: areaM2 });
    inflowM3[way.basin] += roofRunOffM * areaM2;
  });
  const fromOverflowM3 = basins.map(() => 0);
  const heldM3 = basins.map(() => 0);
  const overflowM3 = basins.map(() => 0);
  const overflowsTo = basins.map(() => -1);
  order.forEach((i, turn) => {
    const arrivesM3 = inflowM3[i] + fromOverflowM3[i];
    heldM3[i] = Math.min(arrivesM3, basins[i].scored.bowlM3);
    overflowM3[i] = arrivesM3 - heldM3[i];
    for (const next of order.slice(turn + 1)) {
      const share = onward[i][next];
      if (share <= 0) continue;
      fromOverflowM3[next] += share * overflowM3[i];
      if (overflowsTo[i] === -1 || share > onward[i][overflowsTo[i]]) overflowsTo[i] = next;
    }
  });
  return {
    capturedM3: heldM3.reduce((sum, held) => sum + held, 0),
    led,
    inflowM3,
    fromOverflowM3,
    heldM3,
    overflowM3,
    overflowsTo,
  };
}

function portion(
  { input, ownRoofs }: SearchedLot,
  basin: Sized,
  caught: Catch,
  poured: Poured,
  i: number,
): Portion {
  const { roofs } = input.catchments;
  const drained: { areaM2: number; fromDownspoutM: number }[] = [];
  let byGroundM2 = 0;
  roofs.forEach((roof, r) => {
    const areaM2 = roof.areaM2 * caught.roofShares[r];
    byGroundM2 += areaM2;
    const gapM = ownRoofs.includes(r) ? nearestM(basin.rim, roof.at) : Infinity;
    if (areaM2 > 0) drained.push({ areaM2, fromDownspoutM: gapM });
  });
  const led = poured.led[i];
  const ledM2 = led.reduce((sum, roof) => sum + roof.area_m2, 0);
  for (const roof of led) {
    drained.push({ areaM2: roof.area_m2, fromDownspoutM: roof.distance_m });
  }
  drained.push({ areaM2: Math.max(0, caught.areaM2 - byGroundM2), fromDownspoutM: Infinity });
  return {
    catch: caught,
    led,
    catchesM2: caught.areaM2 + ledM2,
    roofM2: byGroundM2 + ledM2,
    wantedM2: sizeByFactor(input.soil, basin.depth, drained).areaM2,
    inflowM3: poured.inflowM3[i],
    fromOverflowM3: poured.fromOverflowM3[i],
    capturedM3: poured.heldM3[i],
    overflowM3: poured.overflowM3[i],
    overflowsTo: poured.overflowsTo[i],
  };
}

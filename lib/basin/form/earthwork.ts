import type { LayerMaterial } from '../../plan/basin-properties';
import type { EarthSettings } from '../../plan/earth-settings';
import type { PlanSoil } from '../../soil/plan-soil';
import { practice, type Source } from '../../source';
import { cubicYardM3, inchM } from '../../units/units';
import { bulkingOf, orderMoreOf, wastage, type Bulking, type OrderMore } from './bulking';
import type { FinishedBasin } from './finished-basin';
import { layerVolumes, type Layer } from './layers';

/** Earth moved for a basin. In place means as it lies in the ground before it is dug. */
export interface Earthwork {
  /** Taken away for bowl and bank, m3 in place. */
  readonly cutM3: number;
  /** Added for berm and under the bowl, m3 as compacted. */
  readonly fillM3: number;
  /** Dug below the bowl for the layers, m3 in place. */
  readonly digM3: number;
  /** Soil in place that the fill takes, m3. */
  readonly forFillM3: number;
  /** What is left over, m3 in place; negative when soil has to be brought. */
  readonly spoilM3: number;
  readonly spoilLooseM3: number;
  /** Ground whose height changes, or that is dug, m2. */
  readonly disturbedM2: number;
  readonly bulking: Bulking;
  /** What is ordered over the volume in place. */
  readonly orderMore: Readonly<Record<LayerMaterial, OrderMore>>;
}

/** One line of the list of quantities; the fields leave the program. */
export interface QuantityRow {
  readonly name: string;
  /** In place: in the ground before digging, or laid and settled. */
  readonly volume_m3: number;
  /** As it is carried or ordered. */
  readonly loose_m3?: number;
  readonly area_m2?: number;
  /** How it comes about, in words. */
  readonly note: string;
  /** `null` for what is measured from plan and elevation alone, and for figures that the plan gives. */
  readonly source: Source | null;
}

/** Ground that changes by less is left as it is, metres. */
const touchedM = 0.005;

/**
 * Earth moved, from the two grids of a finished basin and the depth dug below its bowl.
 *
 * The dig goes straight down inside the rim and has the form of the bowl: the same depth under its sides as under its floor.
 * Where the bowl lies on fill, less is dug.
 */
export function earthworkOf(
  { form, before, grid }: FinishedBasin,
  digDepthM: number,
  soil: Pick<PlanSoil, 'texture' | 'broad'>,
  given: EarthSettings = {},
): Earthwork {
  const cellM2 = grid.cellM ** 2;
  let dugM = 0;
  let touched = 0;
  const isInside = new Uint8Array(grid.z.length);
  for (const cell of form.cells) isInside[cell] = 1;
  for (let cell = 0; cell < grid.z.length; cell++) {
    const cutM = before.z[cell] - grid.z[cell];
    if (isInside[cell] === 1) {
      touched++;
      // from the lower of the old ground and the bowl down to the bottom of the dig
      dugM += Math.max(0, digDepthM - Math.max(0, -cutM));
    } else if (Math.abs(cutM) > touchedM) touched++;
  }
  const bulking = bulkingOf(soil, given);
  const digM3 = dugM * cellM2;
  const forFillM3 = form.fillM3 / bulking.compacted;
  const spoilM3 = form.cutM3 + digM3 - forFillM3;
  return {
    cutM3: form.cutM3,
    fillM3: form.fillM3,
    digM3,
    forFillM3,
    spoilM3,
    spoilLooseM3: spoilM3 * (spoilM3 > 0 ? 1 + bulking.swell : 1),
    disturbedM2: touched * cellM2,
    bulking,
    orderMore: orderMoreOf(given),
  };
}

/** Stone under and below the notch: laid this thick (6 in), this far down the berm and into the bowl. Common practice, no source. */
const stoneThickM = 6 * inchM;
const stoneLongM = 1.5;

/**
 * The list of quantities: earth, materials, stone for the notch. Names are those that prices are given by.
 *
 * @param withStone - whether the notch is to be lined.
 */
export function quantitiesOf(
  finished: FinishedBasin,
  earth: Earthwork,
  layers: readonly Layer[],
  withStone: boolean,
): QuantityRow[] {
  return [
    ...earthRows(earth, finished.rimAreaM2),
    ...materialRows(layers, finished.rimAreaM2, earth.orderMore),
    ...(withStone ? [notchStone(finished.form.overflowWidthM)] : []),
    {
      name: 'disturbed ground',
      volume_m3: 0,
      area_m2: earth.disturbedM2,
      note: 'to seed or plant again where it is not the basin itself',
      source: null,
    },
  ];
}

function earthRows(earth: Earthwork, areaM2: number): QuantityRow[] {
  const { bulking } = earth;
  const loose = 1 + bulking.swell;
  const dug = (name: string, volumeM3: number, note: string): QuantityRow => ({
    name,
    volume_m3: volumeM3,
    loose_m3: volumeM3 * loose,
    area_m2: areaM2,
    note,
    source: bulking.swellSource,
  });
  return [
    dug(
      'cut',
      earth.cutM3,
      `for bowl and bank; ${bulking.soil} swells by ${bulking.swellPublished}`,
    ),
    dug('dig for layers', earth.digM3, 'below the bowl, straight down from the rim'),
    {
      name: 'berm fill',
      volume_m3: earth.fillM3,
      loose_m3: earth.forFillM3 * loose,
      note: `as trodden in: ${bulking.compactedPublished} of what it was in the ground`,
      source: bulking.compactedSource,
    },
    earth.spoilM3 >= 0
      ? {
          name: 'spoil',
          volume_m3: earth.spoilM3,
          loose_m3: earth.spoilLooseM3,
          note: 'left over when the berm is built; to spread or take away',
          source: bulking.swellSource,
        }
      : {
          name: 'soil to bring',
          volume_m3: -earth.spoilM3,
          loose_m3: -earth.spoilM3 * loose,
          note: 'what the berm lacks',
          source: bulking.compactedSource,
        },
  ];
}

/** A row for each material, layers of the same together. */
function materialRows(
  layers: readonly Layer[],
  areaM2: number,
  orderMore: Earthwork['orderMore'],
): QuantityRow[] {
  const rows = new Map<string, QuantityRow>();
  for (const { layer, volumeM3 } of layerVolumes(layers, areaM2)) {
    const more = orderMore[layer.material];
    const name = layer.name.toLowerCase();
    const { volume_m3 = 0, loose_m3 = 0 } = rows.get(name) ?? {};
    rows.set(name, {
      name,
      volume_m3: volumeM3 + volume_m3,
      loose_m3: volumeM3 * (1 + more.share) + loose_m3,
      area_m2: areaM2,
      note: `ordered with ${more.published}`,
      source: more.source,
    });
  }
  return [...rows.values()];
}

function notchStone(widthM: number): QuantityRow {
  return stoneRow('notch stone', 'the width of the notch', widthM);
}

/** Stone where the water comes in, laid as at the notch. */
export function inletStone(widthM: number): QuantityRow {
  return stoneRow('inlet stone', 'the width over which water comes in', widthM);
}

function stoneRow(name: string, width: string, widthM: number): QuantityRow {
  const areaM2 = widthM * stoneLongM;
  return {
    name,
    volume_m3: areaM2 * stoneThickM,
    loose_m3: areaM2 * stoneThickM * (1 + wastage.share),
    area_m2: areaM2,
    note: `${width}, 1.5 m long, 6 in (15 cm) thick`,
    source: practice,
  };
}

/** What a quantity costs; the fields leave the program. */
export interface CostRow {
  readonly name: string;
  readonly quantity: number;
  readonly unit: 'm3' | 'm2';
  /** For one unit, in the user's currency. */
  readonly price: number;
  readonly cost: number;
}

/** Cost by the user's own prices. */
export interface Cost {
  readonly rows: readonly CostRow[];
  /** Of what has a price. */
  readonly total: number;
  /** Quantities without a price: they are not in the total. */
  readonly missing: readonly string[];
  /** Prices that belong to no quantity. */
  readonly unused: readonly string[];
  readonly note: string;
}

/** Rows that are part of others and are not paid for twice. */
const notPaid: ReadonlySet<string> = new Set(['disturbed ground', 'berm fill']);

/**
 * What the quantities cost, by `lotfall.prices` alone: for a cubic metre as ordered or carried (loose), for a square metre
 * where there is no volume. What has no price is named, never guessed.
 */
export function costOf(
  quantities: readonly QuantityRow[],
  prices: Readonly<Record<string, number>> | undefined,
): Cost {
  const rows: CostRow[] = [];
  const missing: string[] = [];
  for (const { name, volume_m3, loose_m3, area_m2 } of quantities) {
    const price = prices?.[name];
    const isByArea = volume_m3 === 0 && area_m2 !== undefined;
    const quantity = isByArea ? area_m2 : (loose_m3 ?? volume_m3);
    if (price === undefined) {
      if (quantity > 0 && !notPaid.has(name)) missing.push(name);
      continue;
    }
    rows.push({ name, quantity, unit: isByArea ? 'm2' : 'm3', price, cost: price * quantity });
  }
  const names = new Set(quantities.map(({ name }) => name));
  const unused = Object.keys(prices ?? {}).filter((name) => !names.has(name));
  const total = rows.reduce((sum, { cost }) => sum + cost, 0);
  return {
    rows,
    total,
    missing,
    unused,
    note:
      missing.length === 0
        ? `Prices are the plan's, for a cubic metre as carried or ordered; ${(1 / cubicYardM3).toFixed(2)} cubic yards are one.`
        : `No price in the plan for ${missing.join(', ')}: not in the total.`,
  };
}

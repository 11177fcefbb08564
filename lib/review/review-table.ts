import type { LngLat } from '../frame/frame';
import { featuresOf, type Plan } from '../plan/schema';
import { csv } from '../tables/write-csv';
import type { LotWaterRow, ReviewedLot, ReviewedOrigin, ReviewResult } from './review-result';

const figures = [
  'rain_m3',
  'sump_m3',
  'from_lots_m3',
  'from_elsewhere_m3',
  'soaked_m3',
  'barrel_m3',
  'standing_m3',
  'basin_m3',
  'sewer_m3',
  'off_data_m3',
  'to_lots_m3',
  'to_elsewhere_m3',
] as const satisfies readonly (keyof LotWaterRow)[];

/** One row a lot as CSV, each figure before and after; empty where nothing is known. Cubic metres to the litre. */
export function lotTable({ lots, tried }: ReviewResult): string {
  const isTried = tried !== undefined;
  const heading = [
    'lot',
    'name',
    'reach',
    'area_m2',
    ...figures.flatMap((figure) => [`${figure}_before`, `${figure}_after`]),
    'wet_buildings_before',
    'wet_buildings_after',
    'worse',
    ...(isTried ? certaintyFigures : []),
  ];
  return csv([
    heading,
    ...lots.map((lot) => [...lotCells(lot), ...(isTried ? certaintyCells(lot) : [])]),
  ]);
}

function lotCells({ lot, name, reach, area_m2, before, after, worse }: ReviewedLot): string[] {
  const names = (row: LotWaterRow | null): string =>
    row === null ? '' : row.wet_buildings.map((building) => building.name).join('; ');
  return [
    lot,
    name,
    reach,
    area_m2.toFixed(1),
    ...figures.flatMap((figure) => [volume(before, figure), volume(after, figure)]),
    names(before),
    names(after),
    worse.join('; '),
  ];
}

const certaintyFigures = [
  'wet_before_share',
  'wet_after_share',
  'worse_share',
  'worse_beyond_error',
];

function certaintyCells({ certainty }: ReviewedLot): string[] {
  if (certainty === undefined) return certaintyFigures.map(() => '');
  const { wet_before, wet_after, worse, worse_beyond_error } = certainty;
  return [
    ...[wet_before, wet_after, worse].map((share) => share.toFixed(2)),
    String(worse_beyond_error),
  ];
}

/** A lot with its figures, for a table with places. */
interface LotInLayer {
  readonly id: string;
  readonly name: string;
  readonly properties: Readonly<Record<string, string | number | boolean>>;
  /** Degrees, closed. */
  readonly rings: readonly (readonly LngLat[])[];
}

/** The lots as a layer for other programs, the figures of the table as its columns; what is not known is left out. */
export function lotLayer(
  { lots }: ReviewResult,
  plan: Plan,
): { readonly name: string; readonly geometry: 'Polygon'; readonly features: LotInLayer[] } {
  const found = new Map(lots.map((row) => [row.lot, row]));
  const features = featuresOf(plan, 'lot').flatMap(({ id, geometry }): LotInLayer[] => {
    const row = found.get(id);
    if (row === undefined) return [];
    const { name, reach, area_m2, before, after, worse, certainty } = row;
    const states = Object.entries({ before, after }).flatMap(([state, water]) =>
      water === null ? [] : figures.map((figure) => [`${figure}_${state}`, water[figure]] as const),
    );
    const properties = {
      reach,
      area_m2,
      ...Object.fromEntries(states),
      wet_buildings_before: before?.wet_buildings.length ?? 0,
      wet_buildings_after: after?.wet_buildings.length ?? 0,
      worse: worse.join('; '),
      ...(certainty === undefined
        ? {}
        : { worse_share: certainty.worse, worse_beyond_error: certainty.worse_beyond_error }),
    };
    return [{ id, name, properties, rings: geometry.coordinates }];
  });
  return { name: 'lots', geometry: 'Polygon', features };
}

function volume(row: LotWaterRow | null, figure: (typeof figures)[number]): string {
  return row === null ? '' : row[figure].toFixed(3);
}

/** What crosses each line between two lots, before and after, as CSV; `to` is empty for street and other ground. */
export function lineTable({ lines_before, lines_after }: ReviewResult): string {
  const key = ({ a, b }: { a: string; b: string | null }): string => JSON.stringify([a, b]);
  const after = new Map(lines_after.map((line) => [key(line), line]));
  const before = new Map(lines_before.map((line) => [key(line), line]));
  const keys = [...new Set([...before.keys(), ...after.keys()])].sort();
  const rows = keys.map((each) => {
    const was = before.get(each);
    const is = after.get(each);
    const line = was ?? is;
    return [
      line?.a ?? '',
      line?.b ?? '',
      ...[
        was?.a_to_b_m3,
        is?.a_to_b_m3,
        was?.b_to_a_m3,
        is?.b_to_a_m3,
        was?.net_m3,
        is?.net_m3,
        was?.a_to_b_gross_m3,
        is?.a_to_b_gross_m3,
        was?.b_to_a_gross_m3,
        is?.b_to_a_gross_m3,
      ].map((value) => (value ?? 0).toFixed(4)),
    ];
  });
  return csv([
    [
      'a',
      'b',
      'a_to_b_m3_before',
      'a_to_b_m3_after',
      'b_to_a_m3_before',
      'b_to_a_m3_after',
      'net_m3_before',
      'net_m3_after',
      'a_to_b_gross_m3_before',
      'a_to_b_gross_m3_after',
      'b_to_a_gross_m3_before',
      'b_to_a_gross_m3_after',
    ],
    ...rows,
  ]);
}

/** Where each lot's water ends, as CSV; `lot` is empty where it stands on none. */
export function originTable(origins: readonly ReviewedOrigin[]): string {
  return csv([
    ['from', 'ends', 'lot', 'volume_m3'],
    ...origins.map(({ from, ends, lot, volume_m3 }) => [
      from,
      ends,
      lot ?? '',
      volume_m3.toFixed(4),
    ]),
  ]);
}

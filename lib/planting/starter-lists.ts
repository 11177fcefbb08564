import type { ZoneName } from '../basin/form/planting-zones';
import type { Source } from '../source';
import { footM, inchM } from '../units/units';
import type { Plant } from './plant';

/** A few plants to begin with in one region. */
export interface StarterList {
  readonly id: string;
  readonly region: string;
  readonly plants: readonly Plant[];
}

const minnesota: Source = {
  title: 'Plants for wet and dry ground, height, light and bloom',
  publisher: 'University of Minnesota, on the page of a city and in a reprint',
  year: null,
  mark: 'seen in a secondary copy',
};
const maryland: Source = {
  title: 'Native plants for rain gardens, leaflet',
  publisher: 'State of Maryland',
  year: null,
  mark: 'seen',
};
const county: Source = {
  title: 'List of rain garden plants',
  publisher: 'a county programme in Maryland',
  year: null,
  mark: 'seen',
};
const remembered: Source = {
  title: 'General botany',
  publisher: 'none',
  year: null,
  mark: 'from memory',
};

type Row = readonly [
  name: string,
  common: string,
  zone: ZoneName,
  spreadM: number,
  height: readonly [number, number],
  bloom: readonly [number, number] | null,
  sun: string,
  /** Of height and of bloom; spreads and where a plant is native are all from memory. */
  sources: readonly [Source, Source],
];

const east = 'eastern and central North America (from memory)';

function listOf(id: string, region: string, unitM: number, rows: readonly Row[]): StarterList {
  return {
    id,
    region,
    plants: rows.map(([name, common, zone, spreadM, height, bloom, sun, [tall, when]]) => ({
      name,
      common,
      zone,
      spreadM,
      heightM: [height[0] * unitM, height[1] * unitM],
      bloom,
      sun,
      nativeTo: east,
      sources: { height: tall, spread: remembered, bloom: when },
    })),
  };
}

const both: Row[7] = [minnesota, minnesota];
const heightOnly: Row[7] = [minnesota, remembered];

/** Heights in inches, as published. */
const upperMidwest = listOf('upper-midwest', 'Upper Midwest of the United States', inchM, [
  ['Carex comosa', 'bottlebrush sedge', 'deep', 0.6, [24, 42], [5, 6], 'sun', both],
  ['Iris versicolor', 'northern blue flag', 'deep', 0.6, [24, 36], [6, 7], 'sun to part sun', both],
  ['Juncus effusus', 'soft rush', 'deep', 0.6, [24, 48], [7, 8], 'sun', both],
  ['Asclepias incarnata', 'swamp milkweed', 'middle', 0.6, [36, 48], [6, 8], 'sun', heightOnly],
  [
    'Symphyotrichum novae-angliae',
    'New England aster',
    'middle',
    0.6,
    [24, 48],
    [8, 10],
    'sun to part sun',
    both,
  ],
  [
    'Gentiana andrewsii',
    'bottle gentian',
    'middle',
    0.4,
    [18, 30],
    [8, 10],
    'part sun',
    heightOnly,
  ],
  ['Dalea purpurea', 'purple prairie clover', 'edge', 0.4, [12, 24], [7, 8], 'sun', heightOnly],
  [
    'Allium stellatum',
    'prairie onion',
    'edge',
    0.3,
    [12, 24],
    [7, 8],
    'sun to part sun',
    heightOnly,
  ],
  ['Geum triflorum', 'prairie smoke', 'edge', 0.3, [6, 12], [4, 6], 'sun', heightOnly],
]);

const leaflet: Row[7] = [maryland, remembered];
const programme: Row[7] = [county, county];

/** Heights in feet, as published. */
const midAtlantic = listOf('mid-atlantic', 'Mid-Atlantic of the United States', footM, [
  ['Carex stricta', 'tussock sedge', 'deep', 0.6, [2, 4], [5, 6], 'sun', [maryland, minnesota]],
  [
    'Iris versicolor',
    'northern blue flag',
    'deep',
    0.6,
    [1, 3],
    [6, 7],
    'sun to part sun',
    [maryland, minnesota],
  ],
  ['Mimulus ringens', 'monkey flower', 'deep', 0.5, [1.5, 4], [6, 9], 'sun to part sun', leaflet],
  ['Chelone glabra', 'white turtlehead', 'middle', 0.6, [1, 4], [8, 10], 'part sun', programme],
  ['Asclepias incarnata', 'swamp milkweed', 'middle', 0.6, [2, 4], [6, 8], 'sun', programme],
  ['Eupatorium perfoliatum', 'boneset', 'middle', 0.9, [2, 5], [7, 9], 'sun', leaflet],
  ['Asclepias tuberosa', 'butterfly milkweed', 'edge', 0.45, [1, 3], [6, 9], 'sun', programme],
  ['Aquilegia canadensis', 'columbine', 'edge', 0.35, [2, 3], [4, 6], 'part sun', programme],
  [
    'Schizachyrium scoparium',
    'little bluestem',
    'edge',
    0.45,
    [2, 4],
    [8, 10],
    'sun',
    [remembered, remembered],
  ],
]);

/** The starter lists: few plants, to begin with and to be checked. */
export const starterLists: readonly StarterList[] = [upperMidwest, midAtlantic];

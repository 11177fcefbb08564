import { usualDrainLimit } from '../../basin/design/judge-drain-down';
import { practice } from '../../source';
import type { RuleInputOf, RuleSetInput } from '../rules/rule';
import { markingGuide, minnesota, neighbourOrdinance, northCarolina, washington } from './sources';

/** A rule that must be met, but for what differs from source to source. */
type Asked<T extends 'distance' | 'inside-lot' | 'slope' | 'steep-ground'> = Omit<
  RuleInputOf<T>,
  'published' | 'source' | 'distance' | 'm' | 'steeper_than'
>;

/** The same distance from every feature. */
export const metres = (m: number) => ({ by: 'constant', m }) as const;

export const building: Asked<'distance'> = {
  test: 'distance',
  id: 'foundation',
  letter: 'F',
  title: 'Building foundation',
  from: [{ kind: 'building' }],
  binding: 'must',
};
export const septic: Asked<'distance'> = {
  test: 'distance',
  id: 'septic',
  letter: 'S',
  title: 'Septic system',
  from: [{ kind: 'septic-tank' }, { kind: 'septic-field' }],
  binding: 'must',
};
export const well: Asked<'distance'> = {
  test: 'distance',
  id: 'well',
  letter: 'W',
  title: 'Well',
  from: [{ kind: 'well' }],
  binding: 'must',
};
export const tree: Asked<'distance'> = {
  test: 'distance',
  id: 'tree',
  letter: 'T',
  title: 'Tree roots and canopy',
  from: [{ kind: 'tree' }],
  binding: 'must',
};
export const lotLine: Asked<'inside-lot'> = {
  test: 'inside-lot',
  id: 'lot-line',
  letter: 'L',
  title: 'Lot line',
  binding: 'must',
};
/** Where the source gives no distance from the lot line. */
export const insideLot: RuleInputOf<'inside-lot'> = {
  ...lotLine,
  title: 'Inside the lot',
  m: 0,
  published: 'no distance published',
  source: practice,
};
export const slope: Asked<'slope'> = {
  test: 'slope',
  id: 'slope',
  letter: 'G',
  title: 'Ground slope at the basin',
  binding: 'must',
};
export const steepGround: Asked<'steep-ground'> = {
  test: 'steep-ground',
  id: 'steep-ground',
  letter: 'GS',
  title: 'Steep slopes nearby',
  binding: 'should',
};

/** Lines in the ground: the same in every set, since no rain garden handbook gives a distance of its own. */
export const utility: RuleInputOf<'utility'> = {
  test: 'utility',
  id: 'utility',
  letter: 'U',
  title: 'Utility tolerance zone',
  tolerance_m: 0.4572,
  published: '18 in each side, plus the line',
  binding: 'must',
  source: markingGuide,
  note: 'Zones of 24 in are law in places. Dig by hand inside the zone in any case.',
};

/** What no basin may lie over, published by nobody. */
const notOver = {
  test: 'distance',
  distance: { by: 'not-over' },
  published: 'not over it',
  binding: 'must',
  source: practice,
} as const;

const notOverEasement: RuleInputOf<'distance'> = {
  ...notOver,
  id: 'easement',
  letter: 'E',
  title: 'Not over an easement',
  from: [{ kind: 'easement' }],
  note: 'The holder of the easement may allow it in writing.',
};

const notOverWater: RuleInputOf<'distance'> = {
  ...notOver,
  id: 'wetland',
  letter: 'V',
  title: 'Not over a wetland or watercourse',
  from: [{ kind: 'wetland' }, { kind: 'watercourse' }],
  note: 'Buffers along wetlands and shores are set locally and are often wide.',
};

const notOverBuilt: RuleInputOf<'distance'> = {
  ...notOver,
  id: 'built-over',
  letter: 'P',
  title: 'Not over paving, decks, roofs, walls or kerbs',
  from: [
    { kind: 'surface', where: { cover: ['paving', 'deck'] } },
    { kind: 'roof' },
    { kind: 'wall' },
    { kind: 'kerb' },
  ],
};

/** What every set asks. */
export const everywhere: RuleSetInput['rules'] = [
  utility,
  notOverEasement,
  notOverWater,
  notOverBuilt,
];

export const waterTable: RuleInputOf<'separation-below'> = {
  test: 'separation-below',
  id: 'water-table',
  letter: 'R',
  title: 'Depth to water table and rock',
  to: ['water-table', 'rock'],
  at_least_m: 0.9144,
  published: '3 ft below the bottom',
  binding: 'should',
  source: minnesota,
};

export const notWhereWaterStands: RuleInputOf<'wet-spot'> = {
  test: 'wet-spot',
  id: 'wet-spot',
  letter: 'WS',
  title: 'Not where water already stands on slow soil',
  deeper_than_m: 0.03,
  slower_than_mm_per_h: 12.7,
  published: 'not in undrained low spots',
  binding: 'should',
  source: washington,
  note: 'The source names no figures: 3 cm of standing water is about what the elevation can tell, and 0.5 in/h is the rate that Iowa’s rain garden page asks soil to exceed.',
};

export const drainDown: RuleInputOf<'drain-down'> = {
  test: 'drain-down',
  id: 'drain-down',
  letter: 'D',
  title: 'Drain-down time',
  at_most_h: usualDrainLimit.hours,
  published: usualDrainLimit.published,
  binding: 'should',
  source: usualDrainLimit.source,
};

export const overflowOntoNobody: RuleInputOf<'overflow'> = {
  test: 'overflow',
  id: 'overflow',
  letter: 'O',
  title: 'Overflow onto no neighbour, building or septic field',
  from: [
    { kind: 'lot', where: { own: [false] } },
    { kind: 'building' },
    { kind: 'septic-field' },
    { kind: 'septic-tank' },
    { kind: 'well' },
  ],
  published: 'water not diverted to a neighbour’s land, nor held on it',
  binding: 'should',
  source: neighbourOrdinance,
  note: 'The ordinances bind where they are in force; septic fields, wells and buildings are common practice, no source. Water that ran there before may run on where local law says so.',
};

export const notUphillOfBasement: RuleInputOf<'not-uphill'> = {
  test: 'not-uphill',
  id: 'uphill-of-basement',
  letter: 'H',
  title: 'Not uphill of a basement or crawl space',
  from: [{ kind: 'building', where: { foundation: ['basement', 'crawl-space'] } }],
  reach_m: 30.48,
  published: 'only beside or downslope of the building (looked at within 100 ft)',
  binding: 'must',
  source: northCarolina,
  note: 'The source sets no reach; 100 ft up-gradient of a basement is the figure of the Pennsylvania stormwater manual, from memory.',
};

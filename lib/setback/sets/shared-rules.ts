import type { RuleInputOf } from '../rule';
import { minnesota, northCarolina, markingGuide, practice } from './sources';

/** Lines in the ground: the same in every set, since no rain garden handbook gives a distance of its own. */
export const utility: RuleInputOf<'utility'> = {
  test: 'utility',
  id: 'utility',
  letter: 'U',
  title: 'Utility tolerance zone',
  toleranceM: 0.4572,
  published: '18 in each side, plus the line',
  binding: 'must',
  source: markingGuide,
  note: 'Zones of 24 in are law in places. Dig by hand inside the zone in any case.',
};

export const notOverEasement: RuleInputOf<'distance'> = {
  test: 'distance',
  id: 'easement',
  letter: 'E',
  title: 'Not over an easement',
  from: [{ kind: 'easement' }],
  distance: { by: 'not-over' },
  published: 'not over it',
  binding: 'must',
  source: practice,
  note: 'The holder of the easement may allow it in writing.',
};

export const notOverWater: RuleInputOf<'distance'> = {
  test: 'distance',
  id: 'wetland',
  letter: 'V',
  title: 'Not over a wetland or watercourse',
  from: [{ kind: 'wetland' }, { kind: 'watercourse' }],
  distance: { by: 'not-over' },
  published: 'not over it',
  binding: 'must',
  source: practice,
  note: 'Buffers along wetlands and shores are set locally and are often wide.',
};

export const notOverBuilt: RuleInputOf<'distance'> = {
  test: 'distance',
  id: 'built-over',
  letter: 'P',
  title: 'Not over paving, decks, roofs, walls or kerbs',
  from: [
    { kind: 'surface', where: { cover: ['paving', 'deck'] } },
    { kind: 'roof' },
    { kind: 'wall' },
    { kind: 'kerb' },
  ],
  distance: { by: 'not-over' },
  published: 'not over it',
  binding: 'must',
  source: practice,
};

export const waterTable: RuleInputOf<'on-site'> = {
  test: 'on-site',
  id: 'water-table',
  letter: 'R',
  title: 'Depth to water table and rock',
  published: '3 ft below the bottom',
  ask: 'Dig a look hole in the wet season: seasonal water and rock must lie 3 ft (0.9 m) below the bottom of the basin',
  binding: 'should',
  source: minnesota,
};

export const notUphillOfBasement: RuleInputOf<'not-uphill'> = {
  test: 'not-uphill',
  id: 'uphill-of-basement',
  letter: 'H',
  title: 'Not uphill of a basement or crawl space',
  from: [{ kind: 'building', where: { foundation: ['basement', 'crawl-space'] } }],
  reachM: 30.48,
  published: 'only beside or downslope of the building (looked at within 100 ft)',
  binding: 'must',
  source: northCarolina,
  note: 'The source sets no reach; 100 ft up-gradient of a basement is the figure of the Pennsylvania stormwater manual, from memory.',
};

import type { DrawnRole } from './plan-drawing';

/** What is drawn as a line. */
export const linear: readonly DrawnRole[] = [
  'utility',
  'wall',
  'kerb',
  'swale',
  'berm',
  'drain-pipe',
  'trench-drain',
  'french-drain',
  'level-line',
  'break-line',
  'fence',
  'watercourse',
  'leader',
];
/** What is drawn as a symbol at a point. */
export const pointlike: readonly DrawnRole[] = [
  'well',
  'septic-tank',
  'yard-drain',
  'sump-outlet',
  'window-well',
  'spot-height',
  'soil-test',
  'observation',
];
/** What is drawn as an area. */
export const areal: readonly DrawnRole[] = [
  'lot',
  'building',
  'roof',
  'surface',
  'septic-field',
  'regrade',
  'soakaway',
  'wetland',
  'easement',
  'puddle-edge',
  'relevelled-ground',
  'basin',
  'canopy',
];

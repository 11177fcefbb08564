import type { Kind } from '../../../../lib/plan/schema';

/** How each kind is drawn. */
export const drawnAs: Readonly<Record<Kind, 'polygon' | 'line' | 'point'>> = {
  lot: 'polygon',
  building: 'polygon',
  roof: 'polygon',
  downspout: 'point',
  surface: 'polygon',
  utility: 'line',
  well: 'point',
  'septic-tank': 'point',
  'yard-drain': 'point',
  'sump-outlet': 'point',
  'septic-field': 'polygon',
  wetland: 'polygon',
  easement: 'polygon',
  tree: 'point',
  wall: 'line',
  kerb: 'line',
  swale: 'line',
  berm: 'line',
  regrade: 'polygon',
  'drain-pipe': 'line',
  watercourse: 'line',
  'spot-height': 'point',
  'soil-test': 'point',
  basin: 'polygon',
};

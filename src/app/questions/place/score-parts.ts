import type { ScorePart } from '../../../../lib/siting/sizing/score';

/** What the parts of a site's score are called on the page. */
export const partLabels: Readonly<Record<ScorePart, string>> = {
  caught: 'water caught',
  margin: 'distance to spare',
  slope: 'level ground',
  digging: 'little to dig away',
  downspout: 'near a downspout',
  dryness: 'dry today',
  recommended: 'advice kept',
};

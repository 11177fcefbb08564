import type { ThawSettings } from '../../../../../lib/plan/storm-settings';

/** What a thaw begins with until the user says what it is: an example, no figure of any place. */
export const startingThaw: ThawSettings = {
  snow_water_mm: 50,
  days: [{ mean_c: 3 }, { mean_c: 5 }, { mean_c: 6 }],
  ground: 'frozen',
};

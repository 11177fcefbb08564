/**
 * Prints how fast the parts are. Read the ratios: each is against a plain pass over the same array, or another
 * plain baseline, measured in the same run. Nothing here passes or fails.
 */
import { benchBasin } from './basin.bench';
import { benchCertainty } from './certainty.bench';
import { benchDrainage } from './drainage.bench';
import { benchPage } from './page.bench';
import { benchSetback } from './setback.bench';
import { benchSiting } from './siting.bench';

benchDrainage();
await benchCertainty();
benchBasin();
benchSetback();
await benchSiting();
await benchPage();

/**
 * Prints how fast the parts are. Read the ratios: each is against a plain pass over the same array, or another
 * plain baseline, measured in the same run. Nothing here passes or fails.
 */
import { benchCertainty } from './certainty.bench';
import { benchDrainage } from './drainage.bench';
import { benchPage } from './page.bench';

benchDrainage();
benchCertainty();
await benchPage();

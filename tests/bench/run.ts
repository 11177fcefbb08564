/**
 * Prints how fast the parts are: all, or those named (`npx tsx tests/bench/run.ts drainage certainty`). Read the ratios: each is
 * against a plain pass over the same array, or another plain baseline, measured in the same run. Nothing here passes or fails.
 */
import { benchBasin } from './basin.bench';
import { benchCertainty } from './certainty.bench';
import { benchDrainage } from './drainage.bench';
import { benchGather } from './gather.bench';
import { benchLevels } from './levels.bench';
import { benchLots } from './lots.bench';
import { benchPage } from './page.bench';
import { benchSetback } from './setback.bench';
import { benchSiting } from './siting.bench';

const parts = new Map<string, () => void | Promise<void>>([
  ['drainage', benchDrainage],
  ['certainty', benchCertainty],
  ['basin', benchBasin],
  ['setback', benchSetback],
  ['siting', benchSiting],
  ['lots', benchLots],
  ['gather', benchGather],
  ['levels', benchLevels],
  ['page', benchPage],
]);

const named = process.argv.slice(2);
const unknown = named.filter((name) => !parts.has(name));
if (unknown.length > 0) {
  console.error(
    `There is no part ${unknown.join(', ')}: name some of ${[...parts.keys()].join(', ')}.`,
  );
  process.exitCode = 2;
} else {
  for (const [name, bench] of parts) if (named.length === 0 || named.includes(name)) await bench();
}

import { locateState } from '../../setback/locate/locates';
import { largestBasin, type RoomFor } from './largest-basin';
import { SearchedLot } from '../sizing/searched-lot';
import type { SitingInput } from '../sizing/siting-input';
import type { SitingRemedy } from '../sizing/siting-result';

/** Rules whose lifting is looked at: those that alone keep most ground closed. */
const rulesAtMost = 4;

/**
 * What would make room on a lot that has none, each worked out as if it were so: a smaller garden, two small ones, lines
 * located (at the most that can bring), and each of the rules that alone close most ground lifted, as only an engineered design that the local
 * authority agrees to could. Nothing is relaxed by asking.
 *
 * Cost: up to seven passes over the lot (`largestBasin`).
 */
export async function waysOut(
  searched: SearchedLot,
  pause: () => Promise<void>,
): Promise<SitingRemedy[]> {
  const { input } = searched;
  const ways: SitingRemedy[] = [];
  const one = largestBasin(searched);
  await pause();
  if (one !== null && one.areaM2 < searched.minAreaM2) {
    ways.push(way('smaller', 0, [one], 'A smaller garden fits.'));
    const other = largestBasin(searched, undefined, [one]);
    await pause();
    if (other !== null) {
      ways.push(way('two-smaller', 0, [one, other], 'Two small gardens fit beside each other.'));
    }
  }
  const located = withoutUnlocated(input);
  if (located !== null) {
    ways.push(
      freed(
        searched,
        located,
        'locates',
        null,
        'The most that locating can free: lines that are drawn without a current locate may turn out to lie elsewhere.',
      ),
    );
    await pause();
  }
  const binding = searched.forbidden.refused
    .filter((row) => row.binding === 'must' && row.alone_m2 > 0)
    .sort((a, b) => b.alone_m2 - a.alone_m2)
    .slice(0, rulesAtMost);
  for (const { rule, title } of binding) {
    const without = {
      ...input,
      ruleSet: {
        ...input.ruleSet,
        rules: input.ruleSet.rules.filter(({ id }) => id !== rule),
      },
    };
    ways.push(
      freed(
        searched,
        without,
        'without-rule',
        rule,
        `Without the rule '${title}': only whoever sets it can agree to that, for an engineered design (lined, with an underdrain, by a professional).`,
      ),
    );
    await pause();
  }
  return ways;
}

function freed(
  searched: SearchedLot,
  input: SitingInput,
  kind: SitingRemedy['kind'],
  rule: string | null,
  text: string,
): SitingRemedy {
  const other = new SearchedLot(input);
  const found = largestBasin(other, searched.minAreaM2);
  const freedM2 = other.forbidden.allowedM2 - searched.forbidden.allowedM2;
  return {
    ...way(kind, freedM2, found === null ? [] : [found], text),
    rule,
  };
}

function way(
  kind: SitingRemedy['kind'],
  freed_m2: number,
  rooms: readonly RoomFor[],
  text: string,
): SitingRemedy {
  return {
    kind,
    rule: null,
    freed_m2,
    area_m2: rooms.reduce((sum, { areaM2 }) => sum + areaM2, 0),
    rims: rooms.map(({ rim }) => rim),
    text,
  };
}

/** The input without the lines that are not located: they may lie elsewhere. `null` where all are, or there are none. */
function withoutUnlocated(input: SitingInput): SitingInput | null {
  const { of } = input.plan;
  const utility = of.utility.filter((line) => locateState(line.feature, input.today) === 'current');
  if (utility.length === of.utility.length) return null;
  return { ...input, plan: { ...input.plan, of: { ...of, utility } } };
}

import { inks } from '../drawing/inks';
import { eventDepthMm, thawOf } from '../../storm/event-depth';
import { formatLength, formatRain } from '../../units/format';
import type { SheetFacts } from './sheet-facts';

/** A cell of the title block: what the whole sheet rests on, in a few words. */
export interface TitleCell {
  readonly head: string;
  readonly words: string;
  readonly ink?: string;
}

/** Storm, ground, heights, rules, day and state. */
export function titleCells(facts: SheetFacts): TitleCell[] {
  const { survey, ruleSet, date, plan } = facts;
  const { lotfall } = plan.plan;
  const rmseM = lotfall.elevation?.rmse_m;
  return [
    { head: thawOf(lotfall) === null ? 'STORM' : 'THAW', words: stormWords(facts) },
    {
      head: 'GROUND',
      words:
        survey === null
          ? 'no elevation'
          : `cells of ${formatLength(survey.elevation.sourceCellM, facts.units)}${rmseM === undefined ? '' : `, ± ${formatLength(rmseM, facts.units)} said`}`,
    },
    {
      head: 'HEIGHTS',
      words:
        survey === null
          ? 'none'
          : `of the ${lotfall.elevation?.of_levels === true ? 'plan’s levels' : 'elevation file'}; distances level, ${facts.units === 'us' ? 'feet and inches' : 'metres'}`,
    },
    { head: 'RULES', words: ruleSet.title },
    { head: 'OF', words: date },
    stateOf(facts),
  ];
}

/** The storm or thaw in words. */
export function stormWords({ plan, units }: Pick<SheetFacts, 'plan' | 'units'>): string {
  const { lotfall } = plan.plan;
  const depth = formatRain(eventDepthMm(lotfall), units);
  if (thawOf(lotfall) !== null) return `${depth} of melt`;
  const { duration_h: hours } = lotfall.storm ?? {};
  return hours === undefined ? depth : `${depth} in ${hours} h`;
}

/** How many rules are broken and open, worst first. */
function stateOf({ findings }: SheetFacts): TitleCell {
  const head = 'STATE';
  if (findings === null) return { head, words: 'no garden to be judged' };
  const { must_fail: must, fail, check } = findings.summary;
  const open = check > 0 ? `, ? ${check} to check` : '';
  if (fail > 0) {
    const binding = must > 0 ? ` (${must} binding)` : '';
    return {
      head,
      words: `✗ ${fail} fail${fail === 1 ? 's' : ''}${binding}${open}`,
      ink: inks.fails,
    };
  }
  if (check > 0)
    return { head, words: `? ${check} to check: no digging while they are open`, ink: inks.check };
  return { head, words: '✓ all met', ink: inks.meets };
}

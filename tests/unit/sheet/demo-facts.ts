import { fileURLToPath } from 'node:url';
import { readFileSync } from 'node:fs';
import { surveyLot } from '../../../lib/drainage/storm/survey-lot';
import { openElevation } from '../../../lib/elevation/file/open-elevation';
import { localFrame, makeFrame } from '../../../lib/frame/frame';
import { toLocal } from '../../../lib/plan/local-plan';
import { planArea, planOutline } from '../../../lib/plan/plan-area';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import { ruleSetOf } from '../../../lib/setback/sets/rule-sets';
import { sheetFacts, type SheetFacts } from '../../../lib/sheet/facts/sheet-facts';

const demo = (name: string): string =>
  fileURLToPath(new URL(`../../../fixtures/demo/${name}`, import.meta.url));

/** The day on which the demo's gas line is located. */
export const demoDay = '2026-12-01';

/** The demo's plan, changed as a test wants it. */
export function demoPlan(change: (plan: Plan) => Plan = (plan) => plan): Plan {
  return change(readPlan(readFileSync(demo('lot.plan.geojson'), 'utf8'), 'demo').plan);
}

const known = new Map<string, Promise<SheetFacts>>();

/** What the sheet of a plan on the demo's ground shows; worked out once for each plan. */
export function demoFacts(plan: Plan = demoPlan(), onGround = true): Promise<SheetFacts> {
  const key = JSON.stringify([plan, onGround]);
  const before = known.get(key);
  if (before !== undefined) return before;
  const made = factsOf(plan, onGround);
  known.set(key, made);
  return made;
}

async function factsOf(plan: Plan, onGround: boolean): Promise<SheetFacts> {
  const about = { ruleSet: ruleSetOf(plan.lotfall), date: demoDay, file: 'demo' };
  if (!onGround) {
    const [west, south, east, north] = planArea(plan) ?? [0, 0, 0, 0];
    const frame = makeFrame(localFrame([(west + east) / 2, (south + north) / 2]));
    return sheetFacts({ plan: toLocal(plan, frame), survey: null, ...about });
  }
  const file = await openElevation({ name: 'lot', path: demo('lot.elevation.tif') });
  const area = planOutline(plan) ?? planArea(plan);
  if (area === null) throw new Error('an empty plan has no ground');
  const survey = await surveyLot(file, plan, { area });
  return sheetFacts({ plan: survey.plan, survey, ...about });
}

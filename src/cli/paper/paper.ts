import { basename } from 'node:path';
import { frameAround } from '../../../lib/frame/frame-around';
import { hasLevels } from '../../../lib/levels/readings';
import { onPaper } from '../../../lib/paper/on-paper';
import { toLocal } from '../../../lib/plan/local-plan';
import { ownLot } from '../../../lib/plan/own-lot';
import { planArea } from '../../../lib/plan/plan-area';
import type { Plan } from '../../../lib/plan/schema';
import type { Call, CommandOutput } from '../command';
import { rainNotes, withRain } from '../reading/inputs';
import { sentences } from '../notes';
import { paperText } from './paper-text';
import { usage } from '../usage';

/** What `--elevation` is for in the commands that also answer without. */
export const paperHelp = `Without --elevation and without three levels in the plan it says what can be said without heights: sizes by the
published factors, what a test hole says, what a basin holds, earth for the fall at walls, and how lines with two
levels fall.`;

/** Whether a call has nothing to tell the heights of the ground by. */
export function hasNoGround(call: Call, plan: Plan): boolean {
  return call.option('elevation') === undefined && !hasLevels(plan);
}

/** The answer without elevation. */
export function onPaperAnswer(
  call: Call,
  { plan: read, file, notes }: { plan: Plan; file: string; notes: readonly string[] },
): CommandOutput {
  ownLot(read, file);
  const out = call.option('out');
  if (out !== undefined && !/\.(json|txt)$/i.test(out)) {
    throw usage(
      `'${basename(out)}' asks for a form that only an answer with heights has`,
      'name an --elevation, or end the file in .json or .txt',
    );
  }
  const plan = withRain(read, call.option('rain'));
  const area = planArea(plan);
  if (area === null) throw usage(`${file} is empty`, 'draw at least the lot line');
  const answer = onPaper(toLocal(plan, frameAround(area)), file);
  const remarks = sentences(answer.notes, notes, rainNotes(plan), named(plan), unused(call));
  return {
    text: paperText(answer, {
      title: plan.lotfall.name ?? file,
      units: plan.lotfall.units ?? 'metric',
      notes: remarks,
    }),
    json: { ...answer, notes: remarks },
  };
}

/** Options that only an answer with heights goes by. */
const ofGround = ['capture', 'notch-rain', 'record', 'at', 'basins', 'vertical-unit'];

function unused(call: Call): string[] {
  const given = ofGround.filter((name) => call.option(name) !== undefined);
  if (given.length === 0) return [];
  return [`Not used without heights: ${given.map((name) => `--${name}`).join(', ')}`];
}

function named({ lotfall }: Plan): string[] {
  const source = lotfall.elevation?.source;
  return source === undefined
    ? []
    : [`The plan was drawn on ${source}: with --elevation and that file all of it is answered`];
}

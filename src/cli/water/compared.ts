import { crossingPairs } from '../../../lib/drainage/answer/crossing-pairs';
import { differenceFigure, differenceWords } from '../../../lib/drainage/answer/difference-words';
import type { DrainageResult } from '../../../lib/drainage/answer/drainage-result';
import { madeWorse, stateRows } from '../../../lib/drainage/certainty/state-words';
import { stateFigures } from '../../../lib/drainage/answer/two-states';
import { whatChanged } from '../../../lib/drainage/answer/what-changed';
import type { PlanState } from '../../../lib/plan/plan-state';
import type { Plan } from '../../../lib/plan/schema';
import { formatRain } from '../../../lib/units/format';
import type { Call, CommandOutput } from '../command';
import { noteLines, sentences } from '../notes';
import { crossingPairsText } from './crossings-text';
import { table } from '../writing/table';
import { usage } from '../usage';

const isState = (word: string): word is PlanState => word === 'existing' || word === 'proposed';

/** The two states that a call asks about, null where it asks about the plan alone. */
export function statesAsked(call: Call): readonly [PlanState, PlanState] | null {
  const before = call.option('before');
  const after = call.option('after');
  if (before === undefined && after === undefined) return null;
  for (const [option, word] of [
    ['before', before],
    ['after', after],
  ] as const) {
    if (word === undefined || !isState(word)) {
      throw usage(
        word === undefined ? `--${option} is not given` : `--${option} ${word} is no state`,
        'give --before existing --after proposed',
      );
    }
  }
  if (call.option('write-rasters') !== undefined) {
    throw usage('rasters are of one state', 'leave out --before and --after, or --write-rasters');
  }
  const out = call.option('out');
  if (out?.endsWith('.geojson') === true) {
    throw usage('features are of one state', 'leave out --before and --after, or write .json');
  }
  return [before as PlanState, after as PlanState];
}

/** Both answers and what differs between them, the largest differences first. */
export function compared(
  { states, plan, title }: { states: readonly PlanState[]; plan: Plan; title: string },
  before: DrainageResult,
  after: DrainageResult,
): CommandOutput {
  const units = plan.lotfall.units ?? 'metric';
  const differences = whatChanged(before, after);
  const crossings = crossingPairs(before.crossings, after.crossings);
  const crossingLines = crossingPairsText(crossings, states, after.crossings, units);
  const rows = differences.map((row) => [
    differenceWords(row, plan),
    differenceFigure(row.before, row, units),
    differenceFigure(row.after, row, units),
    row.after > row.before ? 'more' : 'less',
  ]);
  const worse = madeWorse(stateRows(stateFigures(before, after), null), plan, units);
  const [was, is] = states;
  const text = [
    `${title}: ${was} against ${is}, ${formatRain(after.rain_mm, units)} of rain`,
    worse.length === 0
      ? `✓ No wall is wetter, and no lot gets more.`
      : `✕ Worse off: ${worse.join('; ')}.`,
    rows.length === 0
      ? 'Nothing differs between the two by more than rounding and a drop that the cells carry over a line.'
      : table([['', ...states, ''], ...rows], ' rr '),
    ...(crossingLines === '' ? [] : [crossingLines]),
    noteLines(
      sentences(after.notes, [
        'Differences smaller than what the heights’ error moves are not told from it here: ask with --certainty, state by state, where one hangs on centimetres',
      ]),
    ),
  ];
  return {
    text: text.join('\n\n'),
    json: { states, before, after, differences, crossings },
  };
}

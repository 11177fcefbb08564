import {
  crossingFigures,
  crossingPlace,
  toldCrossings,
} from '../../drainage/answer/crossing-words';
import type { CrossingRow } from '../../drainage/answer/line-crossings';
import { usualKind } from '../../drainage/height-error/error-defaults';
import { featureName } from '../../plan/feature-name';
import { formatLength, formatRain } from '../../units/format';
import { letters, type Lettered } from '../drawing/board';
import { lineFacts, type LineFacts } from '../facts/line-facts';
import type { SheetFacts } from '../facts/sheet-facts';
import { stormWords } from '../facts/title-cells';
import { flowLeaves, type Block } from './flow';
import type { Leaf, Making } from './leaf';

const small: Lettered = { ...letters.body, pt: 7.6 };

/**
 * Water at the line of the lot, for those on its other side, builders and boards: what was measured and seen, how the water
 * crosses before and after, what is in doubt, what to ask whom. It judges nobody.
 */
export function linePages(making: Making): Leaf[] {
  const { facts } = making;
  const known = lineFacts(facts);
  const missing = [
    ...(facts.survey === null
      ? ['Without elevation it is not known how water crosses the line.']
      : []),
    ...(facts.lot === null
      ? ['No lot is marked as the own one, so there is no line to look at.']
      : []),
    ...(facts.plan.of.observation.length === 0
      ? ['Nobody has written down water that was seen: mark it on the plan with its day.']
      : []),
  ];
  const main: Block[] = [
    { kind: 'heading', text: 'What this is' },
    {
      kind: 'text',
      text: 'What was measured, seen and reckoned of the water at the line of this lot. It says nothing of who has to answer for what: that hangs on the law of the place, and on those who know it.',
    },
    { kind: 'heading', text: 'What was measured' },
    { kind: 'items', items: measured(facts), look: small },
    { kind: 'heading', text: 'What was seen' },
    ...seenBlocks(facts, known),
    { kind: 'heading', text: 'How the water crosses the line' },
    ...crossingBlocks(facts),
  ];
  const side: Block[] = [
    { kind: 'heading', text: 'In doubt' },
    { kind: 'items', items: doubts(facts), look: small },
    { kind: 'heading', text: 'What to ask whom' },
    { kind: 'items', items: questions(facts, known), look: small },
    { kind: 'heading', text: 'Looked at together' },
    { kind: 'blanks', captions: ['for this lot, and the day', 'for the other side, and the day'] },
  ];
  return flowLeaves(
    making,
    { name: 'line', title: 'Water at the line', missing },
    { main, side, columns: 2 },
  );
}

function measured({ survey, plan, units }: SheetFacts): string[] {
  const { lotfall } = plan.plan;
  const levels = plan.of['spot-height'].length;
  const tests = plan.of['soil-test'];
  return [
    ...(survey === null
      ? []
      : [
          `Heights of the ground: ${survey.elevation.source}, cells of ${formatLength(survey.elevation.sourceCellM, units)}, ${lotfall.elevation?.measured === undefined ? 'day of measuring not known' : `measured ${lotfall.elevation.measured}`}, each off by ± ${formatLength(lotfall.elevation?.rmse_m ?? usualKind(survey.elevation.sourceCellM).rmseM, units)} or so${lotfall.elevation?.rmse_m === undefined ? ' (taken for such data)' : ' (as stated)'}.`,
        ]),
    ...(levels > 0 ? [`${levels} levels read on the lot.`] : []),
    ...tests.map(({ feature }) => `Soil test: ${featureName(feature).slice(0, 80)}.`),
    'Lot lines as drawn, not as surveyed: corner marks of the deed go before them.',
  ];
}

function seenBlocks({ units }: SheetFacts, { seen }: LineFacts): Block[] {
  if (seen.length === 0) {
    return [
      {
        kind: 'text',
        text: 'Nothing is written down. Note day, place, depth, and keep photographs with their day.',
      },
    ];
  }
  const depth = (metres: number | null): string =>
    metres === null ? 'not known' : formatLength(metres, units);
  return [
    {
      kind: 'table',
      table: {
        columns: [
          { head: 'day', width: 16, look: letters.figureBold },
          { head: 'where', width: 34, look: small },
          { head: 'rain', width: 14, align: 'end' },
          { head: 'seen', width: 14, align: 'end', look: letters.figureBold },
          { head: 'reckoned', width: 14, align: 'end' },
          { head: 'both', width: 18, look: small },
        ],
        rows: seen.map((row) => [
          row.on ?? 'no day',
          row.name.slice(0, 80),
          `${row.rain_assumed ? '? ' : ''}${formatRain(row.rain_mm, units)}`,
          depth(row.seen_depth_m),
          depth(row.computed_depth_m),
          row.result.replace('-', ' '),
        ]),
        rowMm: 4.6,
      },
    },
    {
      kind: 'items',
      items: seen.flatMap(({ name, why }) => why.map((each) => `${name}: ${each}`)),
      look: small,
    },
  ];
}

function crossingBlocks(facts: SheetFacts): Block[] {
  const { water, units } = facts;
  if (water === null) return [{ kind: 'text', text: 'Without elevation that is not known.' }];
  const state = (name: string, rows: readonly CrossingRow[]): Block[] => {
    const told = toldCrossings(rows);
    return [
      { kind: 'text', text: name, look: letters.bodyBold },
      told.length === 0
        ? { kind: 'text', text: 'Nothing that is worth telling crosses the line.' }
        : {
            kind: 'table',
            table: {
              columns: [
                { head: 'where', width: 60, look: small },
                { head: 'in this storm', width: 50 },
              ],
              rows: told.map((row) => [crossingPlace(row, units), crossingFigures(row, units)]),
              rowMm: 4.6,
            },
          },
    ];
  };
  return [
    {
      kind: 'text',
      text: `Reckoned for ${stormWords(facts)}; the next sheet draws it. Distances along the line are from the first corner drawn.`,
    },
    ...state('As the lot lies today', water.before.result.crossings?.rows ?? []),
    ...state('With all that is proposed', water.after.result.crossings?.rows ?? []),
  ];
}

function doubts({ survey, water, notes }: SheetFacts): string[] {
  return [
    ...(survey === null
      ? []
      : [
          'Heights err together over some metres: on gentle ground water may cross elsewhere than drawn.',
        ]),
    ...(water === null
      ? []
      : [
          'Volumes are of one storm reckoned, not of a rain that fell; walls, edges and drains that are not on the plan are not in them.',
          'How the ground lay before anybody built here is not known from this.',
        ]),
    'Water below the ground is left out.',
    ...(water?.after.result.not_judged ?? []).map(
      ({ name }) => `${name}: outside the elevation, whole or in part.`,
    ),
    ...notes.slice(0, 8),
  ];
}

function questions(facts: SheetFacts, { toAsk }: LineFacts): string[] {
  const asked = toAsk
    .filter(({ result }) => result !== 'pass')
    .map(
      ({ ask, title, feature_name: name }) => `${capital(ask)}: ${title} (${name.slice(0, 60)}).`,
    );
  const others = facts.plan.of.lot
    .filter(({ feature }) => !feature.properties.own)
    .map(
      ({ feature }) =>
        `Those at ${featureName(feature).slice(0, 60)}: where does water stand after rain, since when, and what was built or filled meanwhile?`,
    );
  return [
    ...new Set(asked),
    ...others,
    'The town: which rule of drainage counts here, is there a drainage easement, are there plans of the grading?',
    'A surveyor: corner marks and heights along the line, where the places above matter.',
  ];
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

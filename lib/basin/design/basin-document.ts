import { mmPerHOfMPerS } from '../../units/units';
import { costOf, quantitiesOf } from '../form/earthwork';
import { assumedSoilNote } from '../form/size-factors';
import { nothingWorks } from '../sizing/slow-soil';
import type { BasinDesign } from './design-result';
import {
  betweenM3,
  catchmentOf,
  drainDownOf,
  longRunOf,
  seriesOf,
  stormOf,
} from './filling-document';
import { formOf } from './form-document';
import { overflowOf } from './overflow-document';
import type { WorkedBasin } from './worked-basin';
import { featureName } from '../../plan/feature-name';

/** The document of a basin from what was worked out. */
export function basinDocument(
  worked: WorkedBasin,
  prices?: Readonly<Record<string, number>>,
): BasinDesign {
  const { feature, built } = worked;
  const stone = worked.notch.result === 'fail' && worked.notch.clearM >= 0;
  const { layers } = built.layers;
  const quantities = stone
    ? quantitiesOf(built.finished, built.earth, layers, true)
    : built.quantities;
  return {
    id: feature.id,
    name: featureName(feature.feature),
    basin: formOf(worked),
    catchment: catchmentOf(worked),
    storm: stormOf(worked),
    drain_down: drainDownOf(worked),
    overflow: overflowOf(worked, stone),
    sizing: sizingOf(worked),
    slow_soil: worked.remedies.map((each) => ({
      kind: each.kind,
      works: each.works,
      why: each.why,
      area_m2: each.areaM2,
      ponding_depth_m: each.pondingDepthM,
      dig_depth_m: each.digDepthM,
      rate_mm_per_h: each.rateMPerS * mmPerHOfMPerS,
      after_rain_h: each.afterRainH,
      from_full_h: each.fromFullH,
      captured_fraction: each.capturedShare,
      underdrain_m3: each.underdrainM3,
    })),
    balance: {
      cut_m3: built.earth.cutM3,
      dig_m3: built.earth.digM3,
      berm_m3: built.earth.forFillM3,
      fill_m3: built.earth.fillM3,
      left_m3: built.earth.spoilM3,
    },
    quantities,
    cost: stone ? costOf(quantities, prices) : built.cost,
    long_run: longRunOf(worked),
    series: seriesOf(worked.filled.series),
    notes: notesOf(worked),
  };
}

function sizingOf(worked: WorkedBasin): BasinDesign['sizing'] {
  const { both, drainedM2, areaForShareM2, depthForShareM } = worked;
  return {
    wanted_fraction: worked.wantedShare,
    by_factor:
      both === null
        ? null
        : {
            soil: both.soil,
            soil_assumed: worked.sizingSoil.assumed,
            area_m2: both.factorAreaM2,
            captured_fraction: both.factorCapturedShare,
            factors: both.factors.map(({ factor, source }, i) => ({
              drained_m2: drainedM2[i],
              factor,
              source,
            })),
          },
    by_storm: {
      area_m2: areaForShareM2,
      ponding_depth_m: depthForShareM,
      largest_held_mm: worked.largestHeldMm,
    },
    agree: both?.agree ?? null,
    why: both?.why ?? 'Nothing drains here but the rain on the basin itself.',
  };
}

function notesOf(worked: WorkedBasin): string[] {
  const { built, catchment, filled, overflow, rain2y, rateKnown, remedies, toBasin } = worked;
  const notes = [...built.notes];
  if (rain2y.from === 'usual') {
    notes.push(
      'What rain of 24 h comes once in two years is not known, which the time of water on its way hangs on: a usual figure is taken. Give it with the storm.',
    );
  }
  if (catchment.cutByEdge) {
    notes.push('Ground beyond what was read may drain here too: its inflow is a lower bound.');
  }
  const between = betweenM3(worked);
  if (between !== null) {
    notes.push(
      'How much comes in hangs on how water is taken to spread on its way: by another rule it is more than 5 % different. Both are given; a storm watched on the ground tells.',
    );
  }
  if (!rateKnown) {
    notes.push(
      'Nothing is known of the soil: it is taken to let nothing in, so overflow is an upper bound.',
    );
  }
  if (worked.both !== null && worked.sizingSoil.assumed) notes.push(assumedSoilNote);
  if (filled.summary.overRim) {
    notes.push('Water runs over the rim itself in this storm: the notch does not take it.');
  }
  if (remedies.length > 0 && nothingWorks(remedies)) {
    notes.push('Nothing that was worked out makes it drain in time here: choose another place.');
  }
  if (toBasin !== null) {
    notes.push(
      `Its overflow is followed on into the basin ${toBasin}${
        overflow.ways.length > 1 ? ', all of it, though at the peak some goes another way' : ''
      }.`,
    );
  }
  notes.push('Evaporation is left out, and no water moves sideways below the floor.');
  return notes;
}

import type { BasinDesign } from '../../basin/design/design-result';
import { sourceLine } from '../../source';
import { formatArea, formatLength } from '../../units/format';
import type { UnitSystem } from '../../units/units';
import type { Garden } from '../orders/needs';

/** One step of building a garden. Field names are those of the JSON output. */
export interface WorkStep {
  readonly key: string;
  readonly title: string;
  readonly how: readonly string[];
  readonly tools: readonly string[];
  /** What must be so before the next step. */
  readonly check: readonly string[];
  readonly goes_wrong: readonly string[];
  /** What may harm people, house or neighbours at this step. */
  readonly caution: readonly string[];
}

/** Said once beside the steps. */
export const stepsSource = 'common practice, no source, where nothing else is said';

interface Told {
  readonly garden: Garden;
  readonly design: BasinDesign;
  readonly length: (metres: number) => string;
  readonly area: (areaM2: number) => string;
}

/** The steps of one garden in order, with its own figures in the user's units. */
export function workSteps(garden: Garden, design: BasinDesign, units: UnitSystem): WorkStep[] {
  const told: Told = {
    garden,
    design,
    length: (metres) => formatLength(metres, units),
    area: (areaM2) => formatArea(areaM2, units),
  };
  return [
    mark(told),
    whiteLine(),
    stripTurf(told),
    dig(told),
    shape(told),
    loosen(),
    ...layers(told),
    notch(told),
    ...(garden.built.earth.fillM3 > 0.01 ? [berm(told)] : []),
    fillAndTime(told),
    plant(told),
    mulch(told),
    edge(told),
    firstRain(),
  ];
}

function step(key: string, title: string, parts: Partial<WorkStep>): WorkStep {
  return { how: [], tools: [], check: [], goes_wrong: [], caution: [], ...parts, key, title };
}

function mark({ garden, length, area }: Told): WorkStep {
  const { form, rimAreaM2 } = garden.built.finished;
  return step('mark', 'Mark the outline on the ground', {
    how: [
      'Set out the rim from two fixed corners by tape, with a stake at each point, and lay a hose along it.',
      `Set a benchmark: a nail in a stake at the height of the sill, ${length(form.freeboardM)} below the rim.`,
    ],
    tools: ['two tapes', 'stakes and hammer', 'string and line level, or hose level', 'hose'],
    check: [
      `The outline is ${area(rimAreaM2)} and lies as drawn from house, lot line, trees and lines.`,
      'The string is level from stake to stake, read from both ends.',
    ],
    goes_wrong: ['A string level that is read from one end only carries its own error.'],
    caution: [
      'A basin close to or uphill of a basement can wet it: measure the distance to the wall again before you dig.',
    ],
  });
}

function whiteLine(): WorkStep {
  return step('white-line', 'Outline the dig in white and have lines marked', {
    how: [
      'Outline everything that is dug, way for barrows and heaps with it, in white paint or flags.',
      'Ask the public service and a private locator, wait the whole notice and every owner’s answer.',
    ],
    tools: ['white marking paint or flags'],
    check: ['Every owner has answered, and the marks can still be seen.'],
    goes_wrong: ['Marks fade or run out while the work waits: have them renewed.'],
    caution: [
      'No marks do not prove that there is no line. Marks tell the place roughly and no depth.',
    ],
  });
}

function stripTurf({ garden, area }: Told): WorkStep {
  return step('strip', 'Strip the turf', {
    how: [
      `Cut it off over ${area(garden.built.earth.disturbedM2)}, roll it up, and keep the best for the berm and the edges.`,
    ],
    tools: ['turf cutter or sharp spade', 'barrow', 'sheet for the heap'],
    check: ['Topsoil lies on a heap of its own, apart from subsoil.'],
    caution: ['A turf cutter is no hand tool: keep it out of the tolerance zone of every line.'],
  });
}

function dig({ garden, design, length }: Told): WorkStep {
  const { built } = garden;
  const deepM = design.basin.dig_depth_m + design.basin.ponding_depth_m;
  return step('dig', 'Dig', {
    how: [
      `Dig to ${length(deepM)} below the sill: the ponding depth of ${length(design.basin.ponding_depth_m)} and ${length(design.basin.dig_depth_m)} for the layers.`,
      'Work backwards from the far side so that nobody treads on the finished floor.',
      built.earth.spoilM3 >= 0
        ? 'Put what the berm needs on the low side, the rest on a sheet or straight away.'
        : 'Keep all of it: the berm needs more than comes out.',
    ],
    tools: ['spade and shovel', 'mattock', 'barrow and boards', 'tape or rod', 'gloves and boots'],
    check: [
      `From the level string the rod reads ${length(deepM)} at five places at least.`,
      `At its deepest the hole is ${length(built.bottomDepthM)} below the ground as it was.`,
      'No water seeps in, and no rock shows.',
    ],
    goes_wrong: [
      'Wet soil smears and seals: stop when it sticks to the spade.',
      'Water in the hole or rock: stop, the place is wrong.',
    ],
    caution: [
      'Within the tolerance zone of a marked line dig by hand, gently, and expose the line first. On a smell of gas or a struck line stop, leave, call the emergency number.',
      'Outside a tree’s root circle only: cut roots can kill it years later, or let it fall.',
      'No wall of soil over about 1.2 m (4 ft) without shoring. Cover or fence the hole overnight.',
      'Warm up, change hands, lift with a partner.',
    ],
  });
}

function shape({ garden, length }: Told): WorkStep {
  const { sideSlope, pondingDepthM, freeboardM } = garden.built.finished.form;
  return step('shape', 'Shape the sides', {
    how: [
      `Rake them to ${sideSlope} along for 1 up, no edge upright: from rim to floor that is ${length((pondingDepthM + freeboardM) * sideSlope)} along.`,
    ],
    tools: ['rake', 'a board cut to the slope'],
    check: [
      `The floor is level to ${length(0.02)} end to end and side to side.`,
      'The rim is at one height all around but at the notch.',
    ],
    goes_wrong: ['A floor that falls to one end ponds there and stays dry elsewhere.'],
  });
}

function loosen(): WorkStep {
  return step('loosen', 'Loosen the floor', {
    how: ['Fork or rake the bottom open, 5 to 10 cm (2 to 4 in), then keep off it.'],
    tools: ['digging fork', 'boards to stand on'],
    check: ['No footprint and no smooth face is left; water poured on goes in.'],
    goes_wrong: ['One walk over a loosened floor closes it again.'],
  });
}

function layers({ garden, length }: Told): WorkStep[] {
  return garden.built.layers.layers
    .filter(({ material }) => material !== 'mulch')
    .map(({ name, material, thicknessM }, i) => {
      const lifts = Math.max(1, Math.ceil(thicknessM / 0.15 - 1e-9));
      return step(`layer-${i + 1}`, `Lay ${length(thicknessM)} of ${name.toLowerCase()}`, {
        how: [
          `In ${lifts === 1 ? 'one layer' : `${lifts} layers of ${length(thicknessM / lifts)}`}, raked level, each trodden lightly once and wetted; no machine on it.`,
          'Rake each layer a little into the one below.',
        ],
        tools: ['shovel', 'rake', 'boards', 'hose with a rose'],
        check: [`The rod reads ${length(thicknessM)} less than before, at five places.`],
        goes_wrong: [
          material === 'coarse-sand' || material === 'gravel'
            ? 'Damp sand stands loose: wet it down before you measure it.'
            : 'Fresh mix settles by a tenth or more after water (from memory): top it up before planting.',
        ],
      });
    });
}

function notch({ garden, design, length }: Told): WorkStep {
  const { form } = garden.built.finished;
  const stone = garden.notchStone || garden.inletStoneM > 0;
  return step('notch', 'Cut the notch and line what runs', {
    how: [
      `Cut the sill ${length(form.overflowWidthM)} wide and ${length(form.freeboardM)} below the rim, level across, where the plan has it.`,
      ...(stone
        ? ['Lay stone on filter cloth, flush with the ground, its upper edge let in.']
        : []),
    ],
    tools: ['spade', 'level and board', ...(stone ? ['filter cloth', 'stone'] : [])],
    check: [
      'Water poured on the sill spreads over its whole width and runs away as drawn.',
      `The sill is ${length(design.basin.ponding_depth_m)} over the floor.`,
    ],
    goes_wrong: ['Stone that stands proud turns the water beside it, where it cuts.'],
    caution: [
      'Overflow must not run to a wall, a neighbour, a pavement or a septic field: follow the first water with your eyes.',
    ],
  });
}

function berm({ garden, length }: Told): WorkStep {
  const { form } = garden.built.finished;
  const bank = garden.built.earth.bulking;
  return step('berm', 'Build the berm', {
    how: [
      `Of the heavier soil, in layers of 10 cm (4 in), each trodden firm, up to the rim: ${length(form.freeboardM)} over the sill.`,
      'Taper its ends into the slope, round its top, sod or seed it at once.',
    ],
    tools: ['tamper or feet', 'level string', 'rake'],
    check: [
      'Its top is level with the rim everywhere, the string just clear of it.',
      `It was built of ${bank.compactedPublished} of its volume in the ground.`,
    ],
    goes_wrong: ['A loose berm sinks and becomes the notch.'],
  });
}

function fillAndTime({ design }: Told): WorkStep {
  const { drain_down: drain } = design;
  const hours = drain.from_full_h;
  return step('fill', 'Fill it with water and time it', {
    how: [
      'Fill it to the sill with a hose on a board, twice; time the second filling until it is dry.',
    ],
    tools: ['hose and water meter or bucket', 'rule stuck in the floor', 'watch'],
    check: [
      `Water reaches the sill everywhere at once, and leaves by the notch alone.`,
      hours === null
        ? 'How long it should take is not known, as the soil is not: write the hours down.'
        : `It should be dry about ${Math.round(hours)} h after, and in no more than ${drain.limit_h} h${drain.source === null ? '' : ` (${sourceLine(drain.source)})`}.`,
    ],
    goes_wrong: [
      'Much slower than reckoned: the floor is smeared; let it dry, fork it again, time it again, before anything is planted.',
    ],
    caution: ['A child can drown in little water: do not leave it full and alone.'],
  });
}

function plant({ garden, area }: Told): WorkStep {
  return step('plant', 'Plant by zone', {
    how: [
      `Lay the pots out dry first: ${garden.built.zones.map(({ zone, areaM2 }) => `${zone} zone ${area(areaM2)}`).join(', ')}.`,
      'Deep zone first, from the middle outwards, standing on boards; roots spread, crowns level with the soil.',
      'Water each plant in until air stops rising.',
    ],
    tools: ['trowel', 'boards', 'watering can', 'labels'],
    check: ['Every plant stands in its zone at its spacing, tall ones off the viewing side.'],
    goes_wrong: ['Plants set too deep rot; set too high dry out.'],
    caution: [
      'Check your local native and invasive lists. Some natives irritate skin or are poisonous: mind children and animals.',
    ],
  });
}

function mulch({ garden, length }: Told): WorkStep {
  const thick = garden.built.layers.layers
    .filter(({ material }) => material === 'mulch')
    .reduce((sum, { thicknessM }) => sum + thicknessM, 0);
  return step('mulch', 'Mulch', {
    how: [
      thick > 0
        ? `Spread ${length(thick)} of shredded hardwood, none against stems.`
        : 'No mulch is in the plan: cover bare soil until plants close.',
    ],
    tools: ['barrow', 'fork', 'gloves'],
    check: ['The water still has its depth: measure from sill to mulch.'],
    goes_wrong: ['Bark chips float out by the notch in the first storm.'],
  });
}

function edge({ length, garden }: Told): WorkStep {
  const { form } = garden.built.finished;
  return step('edge', 'Edge, and bring the water in', {
    how: [
      `Set the edging at the rim, ${length(form.freeboardM)} over the sill, open where water comes in.`,
      'Lead downspout or swale in over stone, so that it falls in gently.',
    ],
    tools: ['spade', 'mallet', 'string'],
    check: ['A bucket poured at each inlet runs in, and none beside it.'],
    goes_wrong: ['Edging that stands above the lawn keeps the water out.'],
  });
}

function firstRain(): WorkStep {
  return step('first-rain', 'Watch the first rains', {
    how: [
      'After each write down date, rain, and hours until dry: lotfall built reads them.',
      'Put back what washed out, and look at the neighbour’s side.',
    ],
    tools: ['rain gauge', 'rule', 'notebook'],
    check: ['Dry in time, no bare rill, no water at the house.'],
    caution: [
      'More than one rain that stands too long breeds mosquitoes and drowns roots: mend it.',
    ],
  });
}

import type { Kind } from './schema';

/** Which of the page's questions answers about a word. */
export type GlossaryQuestion = 'here' | 'water' | 'place' | 'dig' | 'handover';

/** What one thing is called here, what others call it, and what it is. */
export interface GlossaryEntry {
  /** Our word. */
  readonly term: string;
  /** What people call it, in small letters. */
  readonly also: readonly string[];
  /** What it is, in one or two plain sentences. */
  readonly meaning: string;
  /** The kind of feature that it is drawn as; null for a word that is no thing on a lot. */
  readonly kind: Kind | null;
  /** Properties that make the kind this thing. */
  readonly preset?: Readonly<Record<string, string | number | boolean>>;
  readonly question: GlossaryQuestion;
}

/** Words for what is drawn. */
const drawn: readonly GlossaryEntry[] = [
  {
    term: 'lot line',
    also: ['lot', 'property line', 'boundary', 'plot', 'parcel', 'property', 'yard line'],
    meaning: 'Where the land of one owner ends. The lot being planned is drawn first.',
    kind: 'lot',
    question: 'here',
  },
  {
    term: 'building',
    also: ['house', 'home', 'garage', 'addition', 'extension of the house', 'barn'],
    meaning: 'Outline of walls that water must not stand at.',
    kind: 'building',
    question: 'here',
  },
  {
    term: 'shed',
    also: ['garden shed', 'outbuilding', 'playhouse', 'greenhouse', 'gazebo'],
    meaning: 'A building without a foundation that reaches into the ground.',
    kind: 'building',
    preset: { foundation: 'none' },
    question: 'here',
  },
  {
    term: 'roof',
    also: ['eaves', 'gutter', 'gutters', 'roof area'],
    meaning: 'What the gutters of a house gather from, drawn along the eaves.',
    kind: 'roof',
    question: 'here',
  },
  {
    term: 'downspout',
    also: ['downpipe', 'gutter spout', 'leader', 'rainwater pipe', 'drainpipe of a roof', 'spout'],
    meaning:
      'The pipe that brings a roof’s water down; where its water meets the ground is its outlet.',
    kind: 'downspout',
    question: 'here',
  },
  {
    term: 'rain barrel',
    also: ['barrel', 'water butt', 'cistern', 'tank for rain', 'rain tank'],
    meaning:
      'Holds back the first of a downspout’s water: give the downspout the room of its barrel.',
    kind: 'downspout',
    question: 'here',
  },
  {
    term: 'patio',
    also: ['terrace', 'paving', 'pavers', 'slab', 'concrete', 'hardstanding', 'path', 'walk'],
    meaning: 'Hard ground that nearly all rain runs off from.',
    kind: 'surface',
    preset: { cover: 'paving' },
    question: 'here',
  },
  {
    term: 'driveway',
    also: ['drive', 'parking', 'apron', 'asphalt', 'tarmac', 'blacktop'],
    meaning: 'Hard ground for cars. Gravel is a cover of its own.',
    kind: 'surface',
    preset: { cover: 'paving' },
    question: 'here',
  },
  {
    term: 'gravel drive',
    also: ['gravel', 'gravel path', 'crushed stone', 'shingle', 'pea gravel'],
    meaning: 'Loose stone that is driven or walked on; packed hard it sheds much of the rain.',
    kind: 'surface',
    preset: { cover: 'gravel' },
    question: 'here',
  },
  {
    term: 'deck',
    also: ['decking', 'wooden terrace', 'porch'],
    meaning: 'Boards with gaps over ground that takes the rain.',
    kind: 'surface',
    preset: { cover: 'deck' },
    question: 'here',
  },
  {
    term: 'lawn',
    also: ['grass', 'turf', 'sod', 'yard', 'garden'],
    meaning: 'Grass. Where no surface is drawn the ground is taken as lawn.',
    kind: 'surface',
    preset: { cover: 'lawn' },
    question: 'here',
  },
  {
    term: 'bed',
    also: ['flower bed', 'planting bed', 'border', 'mulch', 'vegetable garden', 'shrubs'],
    meaning: 'Dug and planted ground.',
    kind: 'surface',
    preset: { cover: 'bed' },
    question: 'here',
  },
  {
    term: 'bare ground',
    also: ['bare', 'dirt', 'mud', 'bare soil', 'building site'],
    meaning: 'Soil without plants, which sheds more water and washes away.',
    kind: 'surface',
    preset: { cover: 'bare' },
    question: 'here',
  },
  {
    term: 'woods',
    also: ['trees and litter', 'wood', 'forest', 'grove'],
    meaning: 'Ground under trees with leaves lying on it.',
    kind: 'surface',
    preset: { cover: 'woods' },
    question: 'here',
  },
  {
    term: 'meadow',
    also: ['prairie', 'tall grass', 'field', 'pasture'],
    meaning: 'Grass that is cut once or twice a year.',
    kind: 'surface',
    preset: { cover: 'meadow' },
    question: 'here',
  },
  {
    term: 'wall',
    also: ['retaining wall', 'garden wall', 'solid fence', 'sandbags', 'block wall', 'step'],
    meaning:
      'Stands in the way of water. A wall that holds a bank also changes the ground behind it.',
    kind: 'wall',
    question: 'here',
  },
  {
    term: 'kerb',
    also: ['curb', 'edging', 'lawn edging', 'gutter of a street', 'edge stone'],
    meaning: 'A low edge that turns water along itself.',
    kind: 'kerb',
    question: 'here',
  },
  {
    term: 'berm',
    also: ['bank', 'mound', 'dike', 'dyke', 'ridge', 'earth bank', 'levee'],
    meaning: 'A ridge of earth that turns or holds water.',
    kind: 'berm',
    question: 'here',
  },
  {
    term: 'swale',
    also: ['ditch', 'channel', 'grass channel', 'drainage way', 'dry creek', 'dry stream', 'gully'],
    meaning: 'A shallow, wide ditch, mostly grass, that leads water along its bed.',
    kind: 'swale',
    question: 'here',
  },
  {
    term: 'graded place',
    also: [
      'regrade',
      'regrading',
      'fill',
      'topsoil',
      'slope away',
      'levelling',
      'cut',
      'raise the yard',
    ],
    meaning: 'Ground that is filled or cut to lie level or to fall one way.',
    kind: 'regrade',
    question: 'here',
  },
  {
    term: 'drain pipe',
    also: [
      'buried pipe',
      'underground pipe',
      'culvert',
      'downspout extension',
      'solid pipe',
      'drain tile',
    ],
    meaning: 'A closed pipe in the ground: water runs in at its first end and out at its last.',
    kind: 'drain-pipe',
    question: 'here',
  },
  {
    term: 'outlet',
    also: [
      'pop-up',
      'pop-up emitter',
      'emitter',
      'splash block',
      'daylight',
      'bubbler',
      'pipe end',
    ],
    meaning:
      'Where a pipe lets its water out on the ground: the lower end of a drain pipe or a downspout’s outlet.',
    kind: 'drain-pipe',
    question: 'here',
  },
  {
    term: 'yard drain',
    also: [
      'catch basin',
      'area drain',
      'inlet',
      'grate',
      'drain grate',
      'gully pot',
      'storm drain',
    ],
    meaning: 'A grate in the ground that takes water into a pipe.',
    kind: 'yard-drain',
    question: 'here',
  },
  {
    term: 'sump outlet',
    also: ['sump pump', 'sump hose', 'sump', 'pump discharge', 'sump discharge'],
    meaning: 'Where a pump in the basement puts out the water that it lifts.',
    kind: 'sump-outlet',
    question: 'here',
  },
  {
    term: 'utility line',
    also: [
      'gas line',
      'electric line',
      'cable',
      'water main',
      'sewer line',
      'power line',
      'pipe of a utility',
    ],
    meaning: 'A line in the ground that digging could hit.',
    kind: 'utility',
    question: 'here',
  },
  {
    term: 'well',
    also: ['water well', 'drinking water well', 'borehole for water'],
    meaning: 'Where drinking water is drawn; run-off is kept away from it.',
    kind: 'well',
    question: 'here',
  },
  {
    term: 'septic tank',
    also: ['septic', 'cesspool', 'septic system'],
    meaning: 'Holds a house’s sewage; water is kept off it.',
    kind: 'septic-tank',
    question: 'here',
  },
  {
    term: 'septic field',
    also: ['drain field', 'leach field', 'leaching bed', 'drainfield', 'septic bed'],
    meaning: 'Ground that takes what leaves a septic tank; water led to it would drown it.',
    kind: 'septic-field',
    question: 'here',
  },
  {
    term: 'easement',
    also: ['right of way', 'drainage easement', 'utility easement', 'servitude', 'wayleave'],
    meaning: 'A strip in which somebody else has a right: to lines, or to let water run.',
    kind: 'easement',
    question: 'here',
  },
  {
    term: 'wetland',
    also: ['swamp', 'marsh', 'bog', 'pond'],
    meaning: 'Ground that is wet by nature and mostly protected by law.',
    kind: 'wetland',
    question: 'here',
  },
  {
    term: 'watercourse',
    also: ['stream', 'creek', 'brook', 'burn', 'river', 'drainage ditch'],
    meaning: 'Water that runs in a bed of its own, at least part of the year.',
    kind: 'watercourse',
    question: 'here',
  },
  {
    term: 'tree',
    also: ['oak', 'trunk', 'canopy', 'drip line', 'root zone', 'roots'],
    meaning: 'Its trunk and canopy say how near to it one may dig.',
    kind: 'tree',
    question: 'here',
  },
  {
    term: 'spot height',
    also: [
      'level',
      'levels',
      'grade',
      'grades',
      'topo',
      'elevation point',
      'survey point',
      'shot',
      'string level',
    ],
    meaning: 'The height of the ground at one place, read with a string, a hose or an instrument.',
    kind: 'spot-height',
    question: 'here',
  },
  {
    term: 'puddle’s edge',
    also: [
      'puddle',
      'edge of a puddle',
      'water line',
      'high water mark',
      'ponding edge',
      'puddle-edge',
    ],
    meaning:
      'Where standing water ended: all of it lies at one height, which makes it a level line.',
    kind: 'puddle-edge',
    question: 'here',
  },
  {
    term: 'level line',
    also: ['contour', 'contours', 'contour lines', 'survey contour', 'line at one height'],
    meaning: 'A line at one height: a contour of a survey, or the edge of a floor.',
    kind: 'level-line',
    question: 'here',
  },
  {
    term: 'break line',
    also: ['top of bank', 'toe of slope', 'edge of a bank', 'breakline', 'foot of a bank'],
    meaning: 'Where the ground bends or jumps; it runs straight between the levels read along it.',
    kind: 'break-line',
    question: 'here',
  },
  {
    term: 'ground levelled again',
    also: ['re-survey', 'resurvey', 'new survey', 'newer levels', 'levelled anew', 'topo update'],
    meaning:
      'An outline around levels that are newer than the elevation file: inside it they replace its heights.',
    kind: 'relevelled-ground',
    question: 'here',
  },
  {
    term: 'water seen',
    also: ['observation', 'water stood here', 'flooded here', 'how long it stood'],
    meaning: 'Water that somebody saw: where, how deep, until when, after what rain.',
    kind: 'observation',
    question: 'here',
  },
  {
    term: 'soil test',
    also: [
      'perc test',
      'percolation test',
      'hole test',
      'infiltration test',
      'soak test',
      'test hole',
    ],
    meaning: 'Fill a hole, watch the water fall: it says how fast the soil takes water.',
    kind: 'soil-test',
    question: 'here',
  },
  {
    term: 'basin',
    also: ['rain garden', 'bioretention', 'infiltration basin', 'bioswale', 'sunken bed'],
    meaning:
      'The rain garden as it is dug: a shallow planted hollow that fills in rain and soaks away.',
    kind: 'basin',
    question: 'dig',
  },
];

/** Words for what is drawn below ground and beside it. */
const below: readonly GlossaryEntry[] = [
  {
    term: 'soakaway',
    also: [
      'dry well',
      'drywell',
      'dry sump',
      'gravel pit',
      'soak pit',
      'dry pit',
      'soakaway crate',
    ],
    meaning: 'A hole filled with stone or crates that takes roof water and lets it soak away.',
    kind: 'soakaway',
    question: 'here',
  },
  {
    term: 'French drain',
    also: [
      'curtain drain',
      'footing drain',
      'perforated pipe',
      'weeping tile',
      'land drain',
      'gravel trench',
    ],
    meaning:
      'A trench of stone around a pipe with holes, which draws down water that is in the ground.',
    kind: 'french-drain',
    question: 'here',
  },
  {
    term: 'trench drain',
    also: ['channel drain', 'slot drain', 'linear drain', 'strip drain', 'threshold drain'],
    meaning:
      'A long narrow grate, before a garage say, that takes what runs across it into a pipe.',
    kind: 'trench-drain',
    question: 'here',
  },
  {
    term: 'window well',
    also: ['light well', 'lightwell', 'basement window', 'egress well', 'areaway'],
    meaning: 'The pit before a basement window: water that runs in stands at the glass.',
    kind: 'window-well',
    question: 'here',
  },
  {
    term: 'fence',
    also: ['wooden fence', 'chain link', 'railing', 'gate', 'fence panel', 'posts', 'hedge'],
    meaning:
      'Lets water by below it or between its boards; one that is closed to the ground is a wall to water.',
    kind: 'fence',
    question: 'here',
  },
];

/** Words for what is asked and answered. */
const asked: readonly GlossaryEntry[] = [
  {
    term: 'low spot',
    also: [
      'ponding',
      'standing water',
      'swampy yard',
      'bowl',
      'wet spot',
      'bird bath',
      'depression',
    ],
    meaning: 'A hollow that holds water until it soaks away or spills over.',
    kind: null,
    question: 'water',
  },
  {
    term: 'run-on',
    also: [
      'run-off from next door',
      'runoff',
      'neighbour’s water',
      'neighbor’s water',
      'sheet flow',
    ],
    meaning: 'What comes to a lot over its line from other land.',
    kind: null,
    question: 'water',
  },
  {
    term: 'falls towards the wall',
    also: [
      'negative grading',
      'reverse slope',
      'slopes to the house',
      'back fall',
      'negative slope',
    ],
    meaning: 'The ground at a house lies higher than its wall, so that rain runs to it.',
    kind: null,
    question: 'water',
  },
  {
    term: 'storm',
    also: [
      'an inch of rain',
      'downpour',
      'cloudburst',
      'design storm',
      'rainfall',
      '100-year storm',
    ],
    meaning: 'So much rain in such a time, for which everything is worked out.',
    kind: null,
    question: 'here',
  },
  {
    term: 'thaw',
    also: ['snowmelt', 'snow melt', 'melt', 'spring melt'],
    meaning: 'Snow that melts in a few warm days, on ground that may be frozen.',
    kind: null,
    question: 'here',
  },
  {
    term: 'soil',
    also: [
      'clay',
      'hardpan',
      'sand',
      'loam',
      'soil group',
      'hydrologic soil group',
      'hsg',
      'texture',
    ],
    meaning: 'How fast water goes into the ground: by a test, or roughly by the texture.',
    kind: null,
    question: 'here',
  },
  {
    term: 'ponding depth',
    also: ['how deep', 'depth of the garden', 'depth of water'],
    meaning: 'How deep water stands in a basin before it overflows.',
    kind: null,
    question: 'dig',
  },
  {
    term: 'size of the basin',
    also: ['how big', 'size factor', 'sizing', 'square feet', 'loading ratio'],
    meaning: 'The area that takes the water of the roofs and paving led to it.',
    kind: null,
    question: 'dig',
  },
  {
    term: 'notch',
    also: ['spillway', 'overflow', 'weir', 'sill', 'low point of the rim'],
    meaning: 'The place in the rim where a full basin lets water out, and only there.',
    kind: null,
    question: 'dig',
  },
  {
    term: 'locate request',
    also: [
      'call before you dig',
      'utility locate',
      'dig ticket',
      'notice centre',
      'marking of lines',
    ],
    meaning: 'Asking for the lines in the ground to be marked before anybody digs.',
    kind: null,
    question: 'place',
  },
  {
    term: 'setback',
    also: ['distance from the house', 'how far', 'clearance', 'separation', 'allowed', 'permitted'],
    meaning: 'How far a rule keeps something from a wall, a line, a well or a tree.',
    kind: null,
    question: 'place',
  },
  {
    term: 'elevation',
    also: ['height file', 'lidar', 'dem', 'dtm', 'contour file', 'geotiff', 'height model'],
    meaning: 'Heights of the ground as a file: bare earth, one metre or finer.',
    kind: null,
    question: 'here',
  },
  {
    term: 'plan',
    also: ['plot plan', 'plat', 'survey', 'site plan', 'drawing'],
    meaning: 'What is drawn of a lot, with the choices that go with it, in one file.',
    kind: null,
    question: 'here',
  },
];

/** What people call things, what we call them, and what they are: in the order in which things are drawn. */
export const glossary: readonly GlossaryEntry[] = [...drawn, ...below, ...asked];

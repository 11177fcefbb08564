/** Which paper the sheet is drawn on. */
export type Theme = 'paper' | 'dark' | 'sun';

/** The colours of the sheet. Every one is used for one thing, named here; patterns take them too. */
export interface Ink {
  readonly paper: string;
  /** A field of the page that stands back from the paper. */
  readonly paperShade: string;
  /** Inside buildings. */
  readonly built: string;
  readonly ink: string;
  readonly secondInk: string;
  readonly hairline: string;
  readonly contour: string;
  readonly contourText: string;
  readonly water: string;
  readonly paleWater: string;
  /** Letters on water. */
  readonly onWater: string;
  /** Water in the soil. */
  readonly soaked: string;
  readonly flow: string;
  readonly meets: string;
  readonly fails: string;
  readonly check: string;
  /** Three inks for keep-clear zones, taken in turn; the angle and the letter tell the rules apart. */
  readonly keepClear: readonly [string, string, string];
  readonly basinRim: string;
  /** From the rim inwards. */
  readonly basinSteps: readonly [string, string, string];
  /**
   * The outline of ground to be dug, and the band under it by which it is seen on any paper: white is the colour for
   * proposed excavation in the same code as that of the utilities.
   */
  readonly dig: string;
  readonly digBand: string;
  readonly growth: string;
  readonly canopy: string;
  readonly septic: string;
  /** The pencil that marks what is selected or pointed at. */
  readonly highlight: string;
  /** A measuring tape, and the marks on it. */
  readonly tape: string;
  readonly onTape: string;
  /**
   * Lines as marked on the ground: American Public Works Association, uniform color code (red electric,
   * yellow gas, orange communications, blue potable water, purple reclaimed water, green sewer), deepened
   * enough to be seen on the paper.
   */
  readonly utility: Readonly<Record<UtilityService, string>>;
  /** The same for letters, which need more contrast than lines. */
  readonly utilityText: Readonly<Record<UtilityService, string>>;
}

export type UtilityService =
  'electric' | 'gas' | 'water' | 'sewer' | 'communications' | 'reclaimed-water';

/** Letters as on site plans. */
export const utilityLetters: Readonly<Record<UtilityService, string>> = {
  electric: 'E',
  gas: 'G',
  water: 'W',
  sewer: 'S',
  communications: 'C',
  'reclaimed-water': 'RW',
};

const paper: Ink = {
  paper: '#f6f1e4',
  paperShade: '#ece5d2',
  built: '#e9e2cf',
  ink: '#15222e',
  secondInk: '#4a5560',
  hairline: '#b9b09a',
  contour: '#8a6b45',
  contourText: '#6d4f2b',
  water: '#1f6f7b',
  paleWater: '#8fc1c3',
  onWater: '#ffffff',
  soaked: '#a8894a',
  flow: '#1d3b4d',
  meets: '#2c6a3f',
  fails: '#a3271f',
  check: '#7a5a00',
  keepClear: ['#a8502a', '#7d6a1d', '#5a5f68'],
  basinRim: '#2c6a3f',
  basinSteps: ['#d9e6d3', '#b7d2b6', '#8fbfae'],
  dig: '#ffffff',
  digBand: '#15222e',
  growth: '#5f7a45',
  canopy: '#6f8b54',
  septic: '#5d4b12',
  highlight: '#ffd84d',
  tape: '#f2c230',
  onTape: '#2a2110',
  utility: {
    electric: '#c2261f',
    gas: '#d9a400',
    communications: '#e0741a',
    water: '#1c4e9c',
    'reclaimed-water': '#7a3f9a',
    sewer: '#2e7d3a',
  },
  utilityText: {
    electric: '#b3201b',
    gas: '#7a5f00',
    communications: '#a34d00',
    water: '#1c4e9c',
    'reclaimed-water': '#6b338a',
    sewer: '#23652d',
  },
};

const dark: Ink = {
  paper: '#16202a',
  paperShade: '#202c36',
  built: '#26323d',
  ink: '#e9e2d0',
  secondInk: '#a9afb0',
  hairline: '#4a5560',
  contour: '#a08560',
  contourText: '#cbb08a',
  water: '#7cc4cc',
  paleWater: '#2f6f7a',
  onWater: '#0d1a20',
  soaked: '#a8894a',
  flow: '#b9d6de',
  meets: '#86c796',
  fails: '#f08a7e',
  check: '#e0bd5c',
  keepClear: ['#d98a62', '#bfa95a', '#9aa3ad'],
  basinRim: '#86c796',
  basinSteps: ['#243a31', '#2b4d42', '#2f625a'],
  dig: '#ffffff',
  digBand: '#04080c',
  growth: '#8fae74',
  canopy: '#8fae74',
  septic: '#c9b26a',
  highlight: '#b48a1e',
  tape: '#d9ac2b',
  onTape: '#2a2110',
  utility: {
    electric: '#ff6b5e',
    gas: '#f2c72e',
    communications: '#ff9d4d',
    water: '#6fa8ff',
    'reclaimed-water': '#c690ea',
    sewer: '#6cc67c',
  },
  utilityText: {
    electric: '#ff8a80',
    gas: '#f2c72e',
    communications: '#ffab66',
    water: '#8dbaff',
    'reclaimed-water': '#d3a8f0',
    sewer: '#86d494',
  },
};

/** For a screen in sunlight: white, black, and every ink as deep as it stays told apart. */
const sun: Ink = {
  ...paper,
  paper: '#ffffff',
  paperShade: '#eeeeee',
  built: '#f2f2f2',
  ink: '#000000',
  secondInk: '#262626',
  hairline: '#6b6b6b',
  contour: '#6b4a20',
  contourText: '#4a3010',
  water: '#00545f',
  paleWater: '#6fb3b7',
  soaked: '#7a5f1f',
  flow: '#00202f',
  meets: '#0b4f20',
  fails: '#8f0f08',
  check: '#5c4300',
  basinRim: '#0b4f20',
  growth: '#3f5c22',
  canopy: '#4c6a2e',
  septic: '#3f3000',
};

const papers: Readonly<Record<Theme, Ink>> = { paper, dark, sun };

/** The inks of a paper. */
export function inkOf(theme: Theme): Ink {
  return papers[theme];
}

/** The inks that the page is set in, as custom properties of its styles. */
export function inkProperties(theme: Theme): Readonly<Record<string, string>> {
  const ink = inkOf(theme);
  return {
    '--paper': ink.paper,
    '--paper-shade': ink.paperShade,
    '--ink': ink.ink,
    '--ink-2': ink.secondInk,
    '--hair': ink.hairline,
    '--water': ink.water,
    '--water-pale': ink.paleWater,
    '--on-water': ink.onWater,
    '--soaked': ink.soaked,
    '--meets': ink.meets,
    '--fails': ink.fails,
    '--check': ink.check,
    '--keep-clear': ink.keepClear[0],
    '--highlight': ink.highlight,
    '--tape': ink.tape,
    '--on-tape': ink.onTape,
  };
}

/** Red, green and blue of a colour written `#rrggbb`, 0 to 255. */
export function channels(colour: string): [number, number, number] {
  const value = Number.parseInt(colour.slice(1), 16);
  return [(value >> 16) & 255, (value >> 8) & 255, value & 255];
}

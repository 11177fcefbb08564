import type { FeatureOf } from '../../plan/schema';
import type { Source } from '../../source';

export type Service = FeatureOf<'utility'>['properties']['service'];

/** How lines of one service are marked on the ground, and on a plan for those who do not tell colours apart. */
export interface Marking {
  readonly colour: string;
  /** Letter on the plan. */
  readonly letter: string;
  /** Line on the plan. */
  readonly dash: string;
  /** What else the colour stands for. */
  readonly meaning: string;
}

/** The uniform colour code for marks on the ground, in North America. */
export const markings: Readonly<Record<Service, Marking>> = {
  electric: {
    colour: 'red',
    letter: 'E',
    dash: 'long and short dashes',
    meaning: 'electric power, lighting',
  },
  gas: {
    colour: 'yellow',
    letter: 'G',
    dash: 'long dashes',
    meaning: 'gas, oil, steam, petroleum',
  },
  communications: {
    colour: 'orange',
    letter: 'C',
    dash: 'two dashes and a dot',
    meaning: 'telephone, cable, alarm',
  },
  water: { colour: 'blue', letter: 'W', dash: 'very long dashes', meaning: 'drinking water' },
  'reclaimed-water': {
    colour: 'purple',
    letter: 'RW',
    dash: 'a dash and two dots',
    meaning: 'reclaimed water, irrigation, slurry',
  },
  sewer: { colour: 'green', letter: 'S', dash: 'short dashes', meaning: 'sewers and drains' },
};

/** Colours that stand for no line: the owner paints the first. */
export const otherMarks: readonly { readonly colour: string; readonly meaning: string }[] = [
  { colour: 'white', meaning: 'where you mean to dig' },
  { colour: 'pink', meaning: 'survey marks' },
];

export const markingSource: Source = {
  title: 'Uniform Color Code (colours of ANSI Z535.1, older pages Z53.1)',
  publisher:
    'American Public Works Association, as copied by Dig Line, the notice centre of Idaho, and by the City of Windsor, Ontario',
  year: null,
  mark: 'seen in a secondary copy',
};

/** Where the same colours mean something else. */
export const ukColours =
  'In the United Kingdom the colours of the ducts differ: black low-voltage and red high-voltage electricity, yellow gas, blue water, green broadband and television, grey telephone, purple motorway, orange street lights and signals. Sprayed marks there follow the colours above by agreement only, without a written standard.';

export const ukColoursSource: Source = {
  title:
    'Underground ducting colour codes explained, after Street Works UK guidelines, volume 1 (2018), of which the title was seen',
  publisher: 'two merchants of drainage goods on the web',
  year: null,
  mark: 'seen in a secondary copy',
};

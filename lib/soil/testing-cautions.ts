/** What to mind when testing soil, in our words. */
import { practice, type Source } from '../source';
import { holeTest } from './sources';

export interface Caution {
  readonly text: string;
  readonly source: Source;
}

const extension: Source = {
  title: 'Testing Soil for Rain Gardens',
  publisher: 'a handout without a name on it, document 5904214 of studylib.net',
  year: null,
  mark: 'seen',
};
const washington: Source = {
  title: 'Rain Garden Handbook for Western Washington',
  publisher: 'Washington State University Extension and the state Department of Ecology',
  year: 2013,
  section: 'p. 15',
  mark: 'seen',
};
const devon: Source = {
  title: 'Percolation tests, after Building Regulations H 1.34-1.37',
  publisher: 'West Devon council',
  year: null,
  mark: 'seen in a secondary copy',
};
export const testingCautions: readonly Caution[] = [
  {
    text: 'Have buried lines located before you dig, even for a test hole.',
    source: practice,
  },
  {
    text: 'Dig to where the basin’s bottom will be, clean the sides, and soak the hole first: fill it and wait an hour or two.',
    source: holeTest,
  },
  {
    text: 'Fill three times and read the third: wet soil is slower, and the slowest reading counts.',
    source: extension,
  },
  {
    text: 'Read every 15 to 30 minutes in sand, every hour or two in clay.',
    source: holeTest,
  },
  {
    text: 'Not in heavy rain, hard frost or drought; frozen ground tells nothing.',
    source: devon,
  },
  {
    text: 'If water seeps in, or rock or a hard layer stops the spade, choose another place.',
    source: extension,
  },
  {
    text: 'Look for high water in a hole 3 ft (0.9 m) deep beside it, in the wettest season.',
    source: washington,
  },
];

import { localGoverns, type RuleSetInput } from '../rules/rule';
import {
  everywhere,
  building,
  lotLine,
  metres,
  septic,
  slope,
  steepGround,
  waterTable,
  well,
} from './shared-rules';
import { minnesota, minnesotaInfiltration } from './sources';

export const minnesotaSet: RuleSetInput = {
  id: 'minnesota',
  title: 'Minnesota bioretention setbacks',
  jurisdiction: 'Minnesota (state manual)',
  note: localGoverns,
  rules: [
    {
      ...building,
      distance: metres(3.048),
      published: '10 ft',
      source: minnesota,
      note: 'The ground is to slope away from the building.',
    },
    { ...lotLine, m: 3.048, published: '10 ft', source: minnesota },
    {
      ...septic,
      title: 'Septic tank and leach field',
      distance: metres(15.24),
      published: '50 ft',
      source: minnesota,
      note: 'The manual’s general table for infiltration practices has 35 ft.',
    },
    {
      ...well,
      title: 'Private well',
      distance: metres(15.24),
      published: '50 ft',
      source: minnesota,
      note: 'An earlier table has 100 ft; a public well in sensitive ground needs 100 ft, and 300 ft where 10,000 gallons a day are treated.',
    },
    {
      ...slope,
      title: 'Slope of the adjoining ground',
      at_most: 0.33,
      published: 'between 1 % and 33 %',
      source: minnesota,
    },
    {
      ...slope,
      id: 'least-slope',
      letter: 'GL',
      title: 'Least slope of the adjoining ground',
      at_least: 0.01,
      published: 'between 1 % and 33 %',
      binding: 'should',
      source: minnesota,
    },
    {
      ...steepGround,
      steeper_than: 0.2,
      m: 60.96,
      published: '200 ft from slopes of 20 % or more',
      source: minnesotaInfiltration,
      note: 'Meant for natural slopes; short banks of garden works are met here too.',
    },
    ...everywhere,
    { ...waterTable, binding: 'must' },
  ],
};

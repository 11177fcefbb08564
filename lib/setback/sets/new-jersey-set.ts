import { localGoverns, type RuleSetInput } from '../rules/rule';
import {
  drainDown,
  everywhere,
  building,
  insideLot,
  metres,
  septic,
  tree,
  waterTable,
} from './shared-rules';
import { newJersey } from './sources';

export const newJerseySet: RuleSetInput = {
  id: 'new-jersey',
  title: 'New Jersey homeowner rain garden',
  jurisdiction: 'New Jersey (state extension, for homeowners)',
  note: localGoverns,
  rules: [
    {
      ...building,
      id: 'basement',
      letter: 'FB',
      title: 'Building with a basement',
      from: [{ kind: 'building', where: { foundation: ['basement'] } }],
      distance: metres(3.048),
      published: '10 ft with a basement',
      source: newJersey,
    },
    {
      ...building,
      title: 'Building without a basement',
      distance: metres(0.6096),
      published: '2 ft without a basement',
      source: newJersey,
    },
    { ...septic, distance: metres(7.62), published: '25 ft', source: newJersey },
    {
      ...tree,
      title: 'Tree dripline',
      distance: { by: 'canopy' },
      published: 'outside the dripline',
      source: newJersey,
    },
    insideLot,
    ...everywhere,
    {
      ...waterTable,
      title: 'Seasonal high water',
      to: ['water-table'],
      at_least_m: 0.6096,
      published: '2 ft below the garden depth',
      binding: 'must',
      source: newJersey,
    },
    {
      test: 'wet-spot',
      id: 'wet-spot',
      letter: 'WS',
      title: 'Not where water already ponds',
      deeper_than_m: 0.03,
      published: 'not where water already ponds',
      binding: 'must',
      source: newJersey,
      note: 'The source names no depth: 3 cm is about what the elevation can tell.',
    },
    { ...drainDown, published: '24-48 h', source: newJersey },
  ],
};

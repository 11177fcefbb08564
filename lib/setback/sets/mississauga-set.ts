import { localGoverns, type RuleSetInput } from '../rules/rule';
import {
  everywhere,
  building,
  lotLine,
  metres,
  overflowOntoNobody,
  slope,
  tree,
} from './shared-rules';
import { mississauga } from './sources';

export const mississaugaSet: RuleSetInput = {
  id: 'mississauga',
  title: 'Mississauga rain garden guidance',
  jurisdiction: 'Mississauga, Ontario',
  note: localGoverns,
  rules: [
    {
      ...building,
      title: 'Buildings and foundations',
      distance: metres(3),
      published: '3 m',
      source: mississauga,
    },
    { ...tree, title: 'Trees', distance: metres(3), published: '3 m', source: mississauga },
    {
      ...tree,
      id: 'canopy',
      letter: 'TC',
      title: 'Not under mature trees',
      distance: { by: 'canopy' },
      published: 'not under mature trees',
      binding: 'should',
      source: mississauga,
      note: 'The plan does not say which trees are mature; every canopy is taken.',
    },
    {
      ...lotLine,
      title: 'Lot line to neighbours',
      m: 1.25,
      published: '1.25 m',
      source: mississauga,
    },
    {
      ...overflowOntoNobody,
      title: 'Overflow stays on the own land or goes to the storm system',
      from: [{ kind: 'lot', where: { own: [false] } }],
      published: 'overflow stays on own land or to the storm system',
      binding: 'must',
      source: mississauga,
      note: 'Overflow that reaches the street is taken to reach the storm system.',
    },
    {
      ...slope,
      title: 'Not on a steep slope',
      at_most: 0.12,
      published: 'not on steep slopes',
      binding: 'should',
      source: mississauga,
      note: 'The source names no figure: the 12 % of the Rhode Island guide is taken.',
    },
    ...everywhere,
  ],
};

import { practice, type Source } from '../../source';
import { footM } from '../../units/units';
import type { LotRuleInput } from '../rules/lot-rule';
import { buckinghamshire, neighbourOrdinance } from './sources';

const warrenville: Source = {
  title: 'Sump pump outlets, 3-2.B',
  publisher: 'City of Warrenville, Illinois',
  year: null,
  mark: 'seen',
};
const davenport: Source = {
  title:
    'Sump pump outlets: 10 ft from a line (Davenport, fined); from neighbours and road ditches, no ice, no ponds (Madison County)',
  publisher: 'City of Davenport, Iowa, and Madison County, Illinois',
  year: null,
  mark: 'seen',
};
const strathcona: Source = {
  title: 'Lot drainage tips',
  publisher: 'Strathcona County, Alberta',
  year: null,
  mark: 'seen',
};
const leesSummit: Source = {
  title:
    'Property maintenance code: sump, downspout and foundation-drain outlets within 5 ft of a line are regulated',
  publisher: 'City of Lee’s Summit, Missouri',
  year: null,
  mark: 'seen',
};
const calgary: Source = {
  title: 'Stormwater bylaw page',
  publisher: 'City of Calgary, Alberta',
  year: null,
  mark: 'seen',
};
const borough: Source = {
  title:
    'Stormwater code: concentrated discharge only into a watercourse or an easement (ecode360 29420226)',
  publisher: 'a borough in Pennsylvania',
  year: null,
  mark: 'seen',
};
const surfaceWaters: Source = {
  title:
    'Surface waters, pp. 6 and 48; Dellapenna, 2 Villanova Environmental Law Journal 285 (1991); Keys v. Romley, 64 Cal. 2d 396 (1966)',
  publisher: 'University of Utah, and the courts',
  year: 1991,
  mark: 'seen',
};
const everett: Source = {
  title: 'Drainage questions of residents',
  publisher: 'Everett (Washington), DeSoto (Texas), Wheat Ridge (Colorado)',
  year: null,
  mark: 'seen',
};
const millburn: Source = {
  title: 'Drainage questions of residents',
  publisher: 'Township of Millburn, New Jersey',
  year: null,
  mark: 'seen',
};

const town = 'the town’s engineer or building department';

/** Distances of soakaways, which the standard that they come from asks of shallow ones. */
export function soakawayRules(breach: 'fail' | 'check'): readonly LotRuleInput[] {
  const asked = {
    test: 'soakaway-distance',
    at_least_m: 5,
    binding: 'should',
    breach,
    source: buckinghamshire,
    ask: 'the town’s engineer or building department',
  } as const;
  return [
    {
      ...asked,
      id: 'soakaway-to-building',
      title: 'Soakaway to a building',
      to: 'building',
      published: '5 m from a foundation',
      note: 'A UK design guide (p. 46, seen) holds that the 5 m were meant for point soakaways in susceptible soil, and are a sign of risk for what is spread out; the figure asks nothing of whether roof or patio drains there. Erodible sand, soft chalk and gypsum want 10 m (a home-warranty page, seen).',
    },
    {
      ...asked,
      id: 'soakaway-to-line',
      title: 'Soakaway to the lot line',
      to: 'lot-line',
      published: '5 m from a highway or site boundary',
      note: 'A weak source has 2.5 m to a garden’s boundary.',
    },
    {
      ...asked,
      id: 'soakaway-to-soakaway',
      title: 'Soakaway to another',
      to: 'soakaway',
      at_least_m: 10,
      published: '10 m between soakaways',
    },
  ];
}

/** The generic rules: facts from several places, of no place in particular. */
export const commonLotRules: readonly LotRuleInput[] = [
  {
    test: 'outlet-distance',
    id: 'sump-to-line',
    title: 'Sump outlet to the lot line',
    outlets: ['sump-outlet'],
    to: 'lot-line',
    at_least_m: 5 * footM,
    published: '5 ft from any line',
    binding: 'should',
    source: warrenville,
    ask: town,
  },
  {
    test: 'outlet-distance',
    id: 'sump-far-from-line',
    title: 'Sump outlet well off the lot line',
    outlets: ['sump-outlet'],
    to: 'lot-line',
    at_least_m: 10 * footM,
    published: '10 ft from a line or neighbour',
    binding: 'advice',
    source: davenport,
    ask: town,
    note: 'Where it freezes, nothing that makes ice on a walk or street.',
  },
  {
    test: 'outlet-distance',
    id: 'outlet-to-wall',
    title: 'Outlet to a building’s wall',
    outlets: ['sump-outlet', 'downspout', 'drain-pipe', 'yard-drain', 'trench-drain'],
    to: 'building',
    at_least_m: 1.5,
    published: '1.5 m from the wall, where the ground falls away',
    binding: 'should',
    source: strathcona,
    ask: town,
    note: 'Others ask for 2 m (Edmonton), 6 to 10 ft (Milwaukee), 10 ft (a trade handbook).',
  },
  {
    test: 'outlet-distance',
    id: 'outlet-to-line',
    title: 'Outlet to the lot line',
    outlets: ['downspout', 'drain-pipe', 'yard-drain', 'trench-drain'],
    to: 'lot-line',
    at_least_m: 5 * footM,
    published: 'regulated within 5 ft of a line',
    binding: 'should',
    breach: 'check',
    source: leesSummit,
    ask: town,
    note: 'Edmonton asks for 0.15 m from a neighbour’s line.',
  },
  {
    test: 'outlet-distance',
    id: 'outlet-to-street',
    title: 'Outlet to pavement, street or lane',
    outlets: ['sump-outlet', 'downspout', 'drain-pipe', 'yard-drain', 'trench-drain'],
    to: 'public-way',
    at_least_m: 2,
    published: '2 m from walk, road, lane or swale',
    binding: 'should',
    breach: 'check',
    source: calgary,
    ask: 'the street’s owner, mostly the town or county',
  },
  {
    test: 'keep-open',
    id: 'swale-open',
    title: 'Swales and watercourses neither filled nor blocked',
    ways: ['swale', 'watercourse'],
    against: ['wall', 'kerb', 'berm', 'regrade', 'building'],
    published: 'water not diverted to a neighbour’s land, nor held on it',
    binding: 'should',
    source: neighbourOrdinance,
    ask: 'the town’s engineer, and whose water runs there',
    note: 'A swale that was laid out with the subdivision mostly lies in an easement, drawn or not.',
  },
  {
    test: 'keep-open',
    id: 'easement-open',
    title: 'Easements neither filled nor built over',
    ways: ['easement'],
    against: ['wall', 'kerb', 'berm', 'regrade', 'building', 'soakaway'],
    published: 'not over it without its holder’s leave',
    binding: 'should',
    breach: 'check',
    source: practice,
    ask: 'the holder of the easement; the plat says who',
  },
  {
    test: 'keep-open',
    id: 'fence-across',
    title: 'Fences across drainage ways and easements',
    ways: ['swale', 'watercourse', 'easement'],
    against: ['fence'],
    published: 'only where water runs on below it',
    binding: 'should',
    breach: 'check',
    source: practice,
    ask: 'the town’s engineer or the holder of the easement',
    note: 'Leaves and rubbish close a narrow gap in the first storm.',
  },
  {
    test: 'gathered-flow',
    id: 'gathered-over-line',
    title: 'Gathered water over a lot line',
    within_m: 5 * footM,
    published: 'concentrated discharge only into a watercourse or an easement',
    binding: 'should',
    breach: 'check',
    source: borough,
    ask: 'the neighbour, and the town’s engineer',
  },
  ...soakawayRules('check'),
];

/** What to bear in mind where one's water harms another, or another's harms oneself. */
export interface LotCaution {
  readonly text: string;
  readonly source: Source;
}

/** Cautions on liability; none of them a verdict. */
export const lotCautions: readonly LotCaution[] = [
  {
    text: 'What the law weighs differs by state: some let an owner fend off surface water, some hold both neighbours to the natural flow, most ask today whether what was done was reasonable. Nothing here is a verdict on who is liable.',
    source: surfaceWaters,
  },
  {
    text: 'Owners are mostly asked about what they changed: more water than ran before, or let out in another manner, gathered, faster or elsewhere.',
    source: everett,
  },
  {
    text: 'Water that comes by nature from higher land has to be let in, in many places: keeping it out to the harm of that land is a breach too.',
    source: millburn,
  },
];

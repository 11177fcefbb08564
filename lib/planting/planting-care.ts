import { practice, sourceLine, type Source } from '../source';

/** What a young planting asks for. The fields leave the program. */
export interface CareRow {
  readonly when: string;
  readonly what: string;
  readonly source: string;
}

const weeding: Source = {
  title: 'Plant list for rain gardens: weed monthly',
  publisher: 'a watershed district in Minnesota',
  year: 2017,
  mark: 'seen',
};
const remembered: Source = {
  title: 'Care of a young planting',
  publisher: 'none',
  year: null,
  mark: 'from memory',
};

const rows: readonly (readonly [string, string, Source])[] = [
  ['on the day', 'Water each plant in until air stops rising.', practice],
  ['first 12 weeks', 'Water weekly, 25 mm (1 in), unless it rained as much.', remembered],
  ['first two years', 'Weed monthly; leave labels until you know seedlings from weeds.', weeding],
  ['first year', 'Cut tall ones back by a third in early summer if they flop.', practice],
  ['first winter', 'Leave stems and seed heads standing; pile no salted snow here.', practice],
  ['second spring', 'Cut back, fill gaps, renew mulch where under 5 cm (2 in).', remembered],
  ['second year', 'Water in drought alone; thin out what runs; no fertiliser.', practice],
];

/** Care of the first two years. */
export const careOfTwoYears: readonly CareRow[] = rows.map(([when, what, source]) => ({
  when,
  what,
  source: sourceLine(source),
}));

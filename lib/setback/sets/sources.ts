import type { Source } from '../../source';

export const minnesota: Source = {
  title: 'Minnesota Stormwater Manual',
  publisher: 'Minnesota state pollution control agency',
  year: 2022,
  section: 'Bioretention, setbacks (practices treating 1,000 gallons or more)',
  mark: 'seen',
};
export const minnesotaInfiltration: Source = {
  ...minnesota,
  section: 'General setbacks for infiltration practices',
};
export const washington: Source = {
  title: 'Rain Garden Handbook for Western Washington',
  publisher: 'Washington State University Extension and the state Department of Ecology',
  year: 2013,
  section: 'p. 13',
  mark: 'seen',
};
export const newJersey: Source = {
  title: 'Rain garden training slides to the Rain Garden Manual of New Jersey',
  publisher: 'Rutgers Cooperative Extension and the Native Plant Society of New Jersey',
  year: 2011,
  section: 'slide 17',
  mark: 'seen',
};
export const northCarolina: Source = {
  title: 'Low-impact backyard guide, Backyard Rain Garden Design',
  publisher: 'North Carolina State extension',
  year: null,
  section: 'chapter 5',
  mark: 'seen',
};
export const mississauga: Source = {
  title: 'Rain garden guidance for residents',
  publisher: 'City of Mississauga, Ontario',
  year: null,
  mark: 'seen',
};
export const rhodeIsland: Source = {
  title: 'Rain Gardens: A Design Guide for Homeowners in Rhode Island',
  publisher:
    'University of Rhode Island Cooperative Extension, adapted from the University of Wisconsin-Extension',
  year: null,
  section: 'slope and depth',
  mark: 'seen',
};
export const rootCircle: Source = {
  title: 'Municipal code, tree root protection zone',
  publisher: 'City of Vancouver, Washington',
  year: null,
  section: '20.170.100',
  mark: 'seen',
};
export const markingGuide: Source = {
  title: 'Uniform colour code and marking guide, tolerance zone',
  publisher: 'American Public Works Association, as copied by the Louisiana notice centre',
  year: null,
  mark: 'seen in a secondary copy',
};
export const neighbourOrdinance: Source = {
  title: 'Ordinances on water diverted to or held on a neighbour’s land',
  publisher: 'Lee’s Summit (Missouri), Painesville (Ohio), Mazon (Illinois) and others',
  year: null,
  mark: 'seen',
};
export const buckinghamshire: Source = {
  title: 'Sustainable drainage component standards (tests to BRE Digest 365, 2016)',
  publisher: 'Buckinghamshire Council, England',
  year: null,
  section: 'soakaways and infiltration',
  mark: 'seen',
};
export const lakehead: Source = {
  title: 'Rain garden guidance',
  publisher: 'Lakehead Region Conservation Authority, Ontario',
  year: null,
  mark: 'seen',
};
export const geauga: Source = {
  title: 'Rain garden slides',
  publisher: 'Geauga Soil and Water Conservation District, Ohio',
  year: null,
  mark: 'seen',
};

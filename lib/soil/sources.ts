import type { Source } from '../source';

/** Sources of the soil figures. */
export const rawls1983: Source = {
  title: 'Green-Ampt infiltration parameters from soils data',
  publisher:
    'Rawls, Brakensiek and Miller, Journal of Hydraulic Engineering 109(1), 62-70, as in Chow, Maidment and Mays, Applied Hydrology (1988), table 4.3.1',
  year: 1983,
  mark: 'seen in a secondary copy',
};
export const rawls1982: Source = {
  title: 'Estimation of soil water properties, minimum infiltration rates',
  publisher: 'Rawls, Brakensiek and Saxton, Transactions of the ASAE 25(5)',
  year: 1982,
  mark: 'from memory',
};
export const wisconsinSite: Source = {
  title: 'Site evaluation for storm water infiltration, standard 1002, static design rates',
  publisher: 'Wisconsin Department of Natural Resources',
  year: null,
  mark: 'from memory',
};
const minnesotaManual: Source = {
  title: 'Minnesota Stormwater Manual',
  publisher: 'Minnesota state pollution control agency',
  year: 2014,
  mark: 'seen',
};
export const minnesotaRates: Source = {
  ...minnesotaManual,
  publisher:
    'Minnesota state pollution control agency, adapted from its table of January 2014 in a Minnesota city’s storm water rules, table 5',
  section: 'design infiltration rates',
  mark: 'seen in a secondary copy',
};
/** Beyond a measured rate the soil has to be slowed. */
export const minnesotaTooFast: Source = {
  ...minnesotaManual,
  section: 'page "Design infiltration rates": over 8.3 in/h in the field',
};
export const iowaRate: Source = {
  title: 'Rainscaping Iowa, rain gardens',
  publisher: 'Iowa Stormwater Education Program',
  year: 2018,
  section: 'over 0.5 in/h, else amend the soil',
  mark: 'seen',
};
export const marylandRate: Source = {
  title: 'Testing the Percolation of Your Soil, citing Prince George’s County, Maryland',
  publisher: 'Friends of Little Hunting Creek, Virginia',
  year: null,
  section: 'under 1/4 in/h it may not be a good place',
  mark: 'seen in a secondary copy',
};
export const minnesotaMoisture: Source = {
  ...minnesotaManual,
  section: 'soil water storage properties',
};
export const minnesotaSeparation: Source = {
  ...minnesotaManual,
  year: 2022,
  section: 'Bioretention, separation from seasonally saturated soil and bedrock',
};
export const newJerseySeparation: Source = {
  title: 'Rain garden training slides to the Rain Garden Manual of New Jersey',
  publisher: 'Rutgers Cooperative Extension and the Native Plant Society of New Jersey',
  year: 2011,
  section: 'slide 17',
  mark: 'seen',
};
const torontoGuide: Source = {
  title: 'Low-impact-development planning and design guide, safety correction factors',
  publisher: 'Toronto-area conservation authorities',
  year: null,
  mark: 'seen',
};
export const factorByRatio: Source = {
  ...torontoGuide,
  section: 'ratio of the rate at the bottom to that of the slowest layer within 1.5 m',
};
export const factorTwoOrThree: Source = { ...torontoGuide, section: 'later revision: 2 or 3' };
export const nehGroups: Source = {
  title: 'National Engineering Handbook, part 630, chapter 7, Hydrologic Soil Groups',
  publisher: 'USDA Natural Resources Conservation Service',
  year: 2009,
  section: 'table 7-1',
  mark: 'seen in a secondary copy',
};
export const textureBoundaries: Source = {
  title: 'Clarification of Soil Texture Class Boundaries',
  publisher:
    'Benham, Ahrens and Nettleton, National Soil Survey Center, USDA Natural Resources Conservation Service',
  year: 2009,
  mark: 'seen in a secondary copy',
};
export const textureFeel: Source = {
  title: 'Guide to Texture by Feel, after Thien (1979), Journal of Agronomic Education 8, 54-55',
  publisher: 'United States Department of Agriculture',
  year: 2010,
  mark: 'seen in a secondary copy',
};
export const fallingHead: Source = {
  title: 'Low Impact Development BMP Design Handbook, appendix A, infiltration testing',
  publisher: 'Riverside County, California',
  year: 2011,
  section: "the correction it calls Porchet's; also derived from the wetted area",
  mark: 'from memory',
};
export const reductionFactor: Source = {
  title: 'Percolation-Infiltration Tests, project D-6289-08, reduction factor method',
  publisher: 'City of Santa Ana, California, building permit file, document 549205, pages 52 to 55',
  year: null,
  mark: 'seen',
};
export const holeTest: Source = {
  title: 'Rain garden handout, small-hole test',
  publisher: 'a watershed district, after a homeowner handbook of 2007',
  year: null,
  mark: 'from memory',
};

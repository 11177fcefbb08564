import type { Source } from '../source';

/** Sources of the figures on rain, melt and run-off. */
const tr55: Source = {
  title: 'Urban Hydrology for Small Watersheds, Technical Release 55',
  publisher: 'USDA Soil Conservation Service',
  year: 1986,
  mark: 'seen',
};
export const tr55Groups: Source = {
  ...tr55,
  section: 'appendix A, transmission rates of the soil groups',
};
export const tr55Unconnected: Source = {
  ...tr55,
  section: 'figure 2-4 and appendix F, unconnected impervious area',
};
const nehRunOff: Source = {
  title: 'National Engineering Handbook, part 630, chapter 10, Estimation of Direct Runoff',
  publisher: 'USDA Natural Resources Conservation Service',
  year: 2004,
  mark: 'seen',
};
export const nehAntecedent: Source = { ...nehRunOff, section: 'table 10-1' };
export const nehAveraging: Source = {
  ...nehRunOff,
  section: 'p. 10-11 and example 10-5: run-off is weighted, curve numbers are not',
};
export const nehMelt: Source = {
  title: 'National Engineering Handbook, part 630, chapter 11, Snowmelt',
  publisher: 'USDA Natural Resources Conservation Service',
  year: 2004,
  section: 'degree-day coefficient: 1.6 to 6.0, 2.74 when nothing better is known',
  mark: 'seen in a secondary copy',
};
const highwayHydrology: Source = {
  title: 'Highway Hydrology, Hydraulic Design Series No. 2, second edition',
  publisher: 'US Federal Highway Administration',
  year: 2002,
  mark: 'seen',
};
export const highwayMelt: Source = {
  ...highwayHydrology,
  section: 'pp. 9-28 to 9-35: degree-day method, coefficient 1.8 to 3.7, ripe snow',
};
export const highwayCoefficients: Source = {
  ...highwayHydrology,
  section: 'table 5.7, p. 5-33, after ASCE 1960',
};
export const everettCoefficients: Source = {
  title: 'Design standards, run-off coefficients, table 1',
  publisher: 'City of Everett, Washington',
  year: 1979,
  mark: 'seen',
};
export const illinoisCoefficients: Source = {
  title: 'Course table of rational run-off coefficients, after ASCE',
  publisher: 'University of Illinois',
  year: null,
  mark: 'seen',
};
export const utahPercentile: Source = {
  title: 'Guidance on the percentile storm',
  publisher: 'Utah Division of Water Quality',
  year: 2016,
  section: 'depth not exceeded by that share of the events that bring run-off',
  mark: 'seen',
};
export const michiganThreshold: Source = {
  title:
    'Memorandum of 24 March 2006 on run-off capture, citing the Center for Watershed Protection',
  publisher: 'Michigan Department of Environmental Quality',
  year: 2006,
  section: 'events under 0.10 in bring no run-off',
  mark: 'seen',
};
export const blockMethod: Source = {
  title: 'Applied Hydrology, alternating block method, example 14.4.1',
  publisher: 'Chow, Maidment and Mays, McGraw-Hill',
  year: 1988,
  mark: 'from memory',
};

import { footM, hourS, inchM } from '../units/units';
import { InputError } from '../errors';

/** Manning's n for water a few millimetres deep over a surface. Source: TR-55, USDA SCS, 1986, table 3-1 (seen). */
export const sheetRoughness = {
  smooth: 0.011,
  fallow: 0.05,
  'residue up to 20 %': 0.06,
  'residue over 20 %': 0.17,
  'short grass': 0.15,
  'dense grass': 0.24,
  bermudagrass: 0.41,
  range: 0.13,
  'light woods': 0.4,
  'dense woods': 0.8,
} as const;

/** Farther than this water no longer flows in a sheet: 300 ft. Source: TR-55, chapter 3 (seen). */
export const longestSheetM = 300 * footM;

/** Water flowing down a plane in a sheet. */
export interface SheetFlow {
  readonly lengthM: number;
  /** Fall over run. */
  readonly slope: number;
  /** Manning's n, as in `sheetRoughness`. */
  readonly roughness: number;
  /** Rain of 24 h once in two years, millimetres. */
  readonly rain2yMm: number;
}

/**
 * Time that sheet flow takes, seconds: 0.007 (n L)^0.8 / (P^0.5 s^0.4) hours, with L in feet and P in inches.
 *
 * Source: TR-55, USDA SCS, 1986, equation 3-3 and example 3-1 (seen). @throws {InputError} `flow-time` for a length
 * beyond 300 ft, a slope of nothing or no rain.
 */
export function sheetFlowS({ lengthM, slope, roughness, rain2yMm }: SheetFlow): number {
  if (lengthM > longestSheetM + 1e-9) {
    throw notTimed(
      `water does not flow in a sheet for ${lengthM.toFixed(0)} m, ${longestSheetM.toFixed(0)} m at most`,
      'give the rest as shallow flow',
    );
  }
  if (!(slope > 0)) throw notTimed('its slope is 0', 'give a fall, if a small one');
  if (!(rain2yMm > 0)) throw notTimed('the 2-year rain of 24 h is missing', 'give its depth');
  const hours =
    (0.007 * ((roughness * lengthM) / footM) ** 0.8) /
    (((rain2yMm * 0.001) / inchM) ** 0.5 * slope ** 0.4);
  return hours * hourS;
}

function notTimed(problem: string, remedy: string): InputError {
  return new InputError({ code: 'flow-time', where: 'flow time', problem, remedy });
}

/** Speed of shallow flow that has gathered in runnels, metres a second. Source: TR-55, appendix F (seen). */
export function shallowFlowMPerS(slope: number, isPaved: boolean): number {
  return (isPaved ? 20.3282 : 16.1345) * footM * Math.sqrt(slope);
}

/** A channel that runs full to its banks: a swale, ditch or stream that shows on a map or in the elevation. */
export interface ChannelFlow {
  readonly lengthM: number;
  /** Area of the full section, square metres. */
  readonly sectionM2: number;
  /** Length of bed and banks that the water touches in that section. */
  readonly wettedM: number;
  /** Fall over run. */
  readonly slope: number;
  /** Manning's n for flow in a channel, which is not that of sheet flow: mown grass 0.03 to 0.06. */
  readonly roughness: number;
}

/**
 * Mean speed in a channel that runs full, metres a second: Manning's equation, V = R^(2/3) s^(1/2) / n with the
 * hydraulic radius R of section over wetted length.
 *
 * Source: TR-55, USDA SCS, 1986, equation 3-4 and example 3-1 (seen); its 1.49 for feet is here the exact 1 for metres.
 *   n of mown grass: the planning and design guide of Toronto-area conservation authorities (seen).
 */
export function channelFlowMPerS({
  sectionM2,
  wettedM,
  slope,
  roughness,
}: Omit<ChannelFlow, 'lengthM'>): number {
  return ((sectionM2 / wettedM) ** (2 / 3) * Math.sqrt(slope)) / roughness;
}

/** The way of the water that takes longest: first in a sheet, then in runnels, last in a channel if there is one. */
export interface FlowWay {
  readonly sheet: SheetFlow;
  readonly shallow: { readonly lengthM: number; readonly slope: number; readonly isPaved: boolean };
  readonly channel?: ChannelFlow;
}

/** Shorter times than this are not used for peaks, seconds. Common practice, no source. */
export const leastConcentrationS = 300;

/**
 * Time after which all ground above contributes, seconds, at least 5 minutes: the times of the parts of the way, added up.
 *
 * @throws {InputError} as `sheetFlowS`; also for runnels or a channel that are level, and for a channel without a section.
 */
export function concentrationS({ sheet, shallow, channel }: FlowWay): number {
  const inSheetS = sheet.lengthM > 0 ? sheetFlowS(sheet) : 0;
  if (shallow.lengthM > 0 && !(shallow.slope > 0)) {
    throw notTimed('the slope of its shallow flow is 0', 'give a fall, if a small one');
  }
  const inRunnelsS =
    shallow.lengthM > 0 ? shallow.lengthM / shallowFlowMPerS(shallow.slope, shallow.isPaved) : 0;
  return Math.max(leastConcentrationS, inSheetS + inRunnelsS + inChannelS(channel));
}

function inChannelS(channel: ChannelFlow | undefined): number {
  if (channel === undefined || !(channel.lengthM > 0)) return 0;
  if (!(channel.slope > 0)) {
    throw notTimed('the slope of its channel is 0', 'give a fall, if a small one');
  }
  const { sectionM2, wettedM, roughness } = channel;
  if (!(sectionM2 > 0 && wettedM > 0 && roughness > 0)) {
    throw notTimed(
      'its channel has no section, no wetted length or no roughness',
      'give all three, of the channel full to its banks',
    );
  }
  return channel.lengthM / channelFlowMPerS(channel);
}

/** From the middle of the rain to the peak of its run-off: 0.6 of the time of concentration (NEH 630, chapter 15, from memory). */
export function lagS(timeOfConcentrationS: number): number {
  return 0.6 * timeOfConcentrationS;
}

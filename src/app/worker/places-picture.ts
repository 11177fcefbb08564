import type { Frame, LngLat, XY } from '../../../lib/frame/frame';
import type { PlaceAnswer } from '../../../lib/siting/answer/ask-place';
import type {
  CandidateSite,
  JointSites,
  SitingResult,
  SitingRemedy,
} from '../../../lib/siting/sizing/siting-result';

/** A place found, with its outline and the ways of roofs' water to it where the map wants them. */
export interface FoundPlace<S extends CandidateSite = CandidateSite> {
  readonly site: S;
  readonly at: LngLat;
  readonly ring: readonly LngLat[];
  /** In the order of the site's `led`. */
  readonly leads: readonly (readonly LngLat[])[];
}

/** Basins that share the water. */
export interface FoundJoint {
  readonly whole: Omit<JointSites, 'basins'>;
  readonly basins: readonly FoundPlace<JointSites['basins'][number]>[];
}

/** What the search for places answers. */
export interface PlacesPicture {
  /** Every place that complies, to be ranked; while the search goes on, the best so far. */
  readonly candidates: readonly FoundPlace[];
  readonly joint: FoundJoint | null;
  /** `null` while the search goes on. */
  readonly answer: {
    readonly refused: SitingResult['refused'];
    readonly notes: SitingResult['notes'];
    readonly waysOut: readonly SitingRemedy[];
    readonly lotM2: number;
    readonly allowedM2: number;
  } | null;
}

/** What a place that was asked about answers. */
export interface AskedPlace {
  readonly at: LngLat;
  readonly answer: Omit<PlaceAnswer, 'here' | 'nearest'>;
  readonly here: FoundPlace | null;
  readonly nearest: {
    readonly at: LngLat;
    readonly ring: readonly LngLat[];
    readonly areaM2: number;
    readonly distanceM: number;
    readonly bearingDeg: number;
  } | null;
}

export function foundPlace<S extends CandidateSite>(site: S, frame: Frame): FoundPlace<S> {
  return {
    site,
    at: frame.toLngLat(site.at),
    ring: closedRing(site.rim, frame),
    leads: site.led.map(({ route }) => route.map((at) => frame.toLngLat(at))),
  };
}

export function placesPicture(found: SitingResult, frame: Frame): PlacesPicture {
  const { candidates, joint, refused, notes, ways_out, lot_m2, allowed_m2 } = found;
  return {
    candidates: candidates.map((site) => foundPlace(site, frame)),
    joint: joint === null ? null : foundJoint(joint, frame),
    answer: { refused, notes, waysOut: ways_out, lotM2: lot_m2, allowedM2: allowed_m2 },
  };
}

function foundJoint({ basins, ...whole }: JointSites, frame: Frame): FoundJoint {
  return { whole, basins: basins.map((basin) => foundPlace(basin, frame)) };
}

export function askedPlace(
  { here, nearest, ...answer }: PlaceAnswer,
  at: LngLat,
  frame: Frame,
): AskedPlace {
  return {
    at,
    answer,
    here: here === null ? null : foundPlace(here, frame),
    nearest:
      nearest === null
        ? null
        : {
            at: frame.toLngLat(nearest.at),
            ring: closedRing(nearest.rim, frame),
            areaM2: nearest.area_m2,
            distanceM: nearest.distance_m,
            bearingDeg: nearest.bearing_deg,
          },
  };
}

function closedRing(rim: readonly XY[], frame: Frame): LngLat[] {
  return [...rim, rim[0]].map((at) => frame.toLngLat(at));
}

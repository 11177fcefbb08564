/**
 * Coordinate systems resolved without the large database: the ones in which most public elevation comes,
 * and national grids on older datums for which a published shift to WGS 84 is needed and the database has
 * none.
 */

/** A definition that proj4 reads, and the system's name. */
export interface KnownSystem {
  readonly name: string;
  readonly definition: string;
  /** How well the shift from an older datum places it, metres; absent when there is none to speak of. */
  readonly shiftAccuracyM?: number;
}

const DEGREES = '+no_defs';
const METRES = '+units=m +no_defs';
// NAD 83, ETRS 89 and WGS 84 differ by up to about two metres, depending on place and year, and are taken
// as one: lot lines drawn over public data carry the same offset.
const GRS80 = '+ellps=GRS80 +towgs84=0,0,0,0,0,0,0';
/** Bessel ellipsoid with the German shift; published accuracy 3 m. */
const DHDN = '+ellps=bessel +towgs84=598.1,73.7,418.2,0.202,0.045,-2.455,6.7';
/** Bessel ellipsoid with the Austrian shift; published accuracy 1.5 m. */
const MGI = '+ellps=bessel +towgs84=577.326,90.129,463.919,5.137,1.474,5.297,2.4232';
const SWISS = '+ellps=bessel +towgs84=674.374,15.056,405.346';

/**
 * Definitions and shifts: EPSG registry, as the PROJ 9.1.1 database gives them (transformations OSGB36 to
 * WGS 84 (6), Amersfoort to WGS 84 (4), CH1903+ to WGS 84 (1), DHDN to WGS 84 (2), BD72 to WGS 84 (3),
 * MGI to WGS 84 (3)).
 */
const SYSTEMS: Readonly<Record<number, KnownSystem>> = {
  4326: { name: 'WGS 84', definition: `+proj=longlat +datum=WGS84 ${DEGREES}` },
  4269: { name: 'NAD83', definition: `+proj=longlat ${GRS80} ${DEGREES}` },
  4258: { name: 'ETRS89', definition: `+proj=longlat ${GRS80} ${DEGREES}` },
  3857: {
    name: 'WGS 84 / Pseudo-Mercator',
    definition: `+proj=merc +a=6378137 +b=6378137 +lat_ts=0 +lon_0=0 +x_0=0 +y_0=0 +k=1 +nadgrids=@null ${METRES}`,
  },
  27700: {
    name: 'OSGB36 / British National Grid',
    definition: `+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy +towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489 ${METRES}`,
    shiftAccuracyM: 2,
  },
  28992: {
    name: 'Amersfoort / RD New',
    definition: `+proj=sterea +lat_0=52.1561605555556 +lon_0=5.38763888888889 +k=0.9999079 +x_0=155000 +y_0=463000 +ellps=bessel +towgs84=565.4171,50.3319,465.5524,-0.398957388243134,0.343987817378283,-1.87740163998045,4.0725 ${METRES}`,
    shiftAccuracyM: 1,
  },
  31370: {
    name: 'BD72 / Belgian Lambert 72',
    definition: `+proj=lcc +lat_0=90 +lon_0=4.36748666666667 +lat_1=51.1666672333333 +lat_2=49.8333339 +x_0=150000.013 +y_0=5400088.438 +ellps=intl +towgs84=-106.8686,52.2978,-103.7239,0.3366,-0.457,1.8422,-1.2747 ${METRES}`,
    shiftAccuracyM: 1,
  },
  2056: {
    name: 'CH1903+ / LV95',
    definition: `+proj=somerc +lat_0=46.9524055555556 +lon_0=7.43958333333333 +k_0=1 +x_0=2600000 +y_0=1200000 ${SWISS} ${METRES}`,
    shiftAccuracyM: 1,
  },
  21781: {
    name: 'CH1903 / LV03',
    definition: `+proj=somerc +lat_0=46.9524055555556 +lon_0=7.43958333333333 +k_0=1 +x_0=600000 +y_0=200000 ${SWISS} ${METRES}`,
    // The older frame is itself strained by up to 1.6 m.
    shiftAccuracyM: 2,
  },
  ...sameSystem([3078, 3079, 3591, 6497], {
    name: 'NAD83 / Michigan Oblique Mercator',
    definition: `+proj=omerc +no_uoff +lat_0=45.3091666666667 +lonc=-86 +alpha=337.25556 +gamma=337.25556 +k=0.9996 +x_0=2546731.496 +y_0=-4354009.816 ${GRS80} ${METRES}`,
  }),
  ...sameSystem([3468, 6394, 26931], {
    name: 'NAD83 / Alaska zone 1',
    definition: `+proj=omerc +no_uoff +lat_0=57 +lonc=-133.666666666667 +alpha=323.130102361111 +gamma=323.130102361111 +k=0.9999 +x_0=5000000 +y_0=-5000000 ${GRS80} ${METRES}`,
  }),
  31287: {
    name: 'MGI / Austria Lambert',
    definition: `+proj=lcc +lat_0=47.5 +lon_0=13.3333333333333 +lat_1=49 +lat_2=46 +x_0=400000 +y_0=400000 ${MGI} ${METRES}`,
    shiftAccuracyM: 1.5,
  },
};

/** Series of zones: first and last code, and what each code stands for. */
const SERIES: readonly {
  readonly from: number;
  readonly to: number;
  readonly system: (code: number) => KnownSystem;
}[] = [
  { from: 32601, to: 32660, system: (code) => utm('WGS 84', '+datum=WGS84', code - 32600, 'N') },
  { from: 32701, to: 32760, system: (code) => utm('WGS 84', '+datum=WGS84', code - 32700, 'S') },
  { from: 26901, to: 26923, system: (code) => utm('NAD83', GRS80, code - 26900, 'N') },
  { from: 25828, to: 25838, system: (code) => utm('ETRS89', GRS80, code - 25800, 'N') },
  {
    from: 31466,
    to: 31469,
    system: (code) => {
      const zone = code - 31464;
      return {
        name: `DHDN / 3-degree Gauss-Kruger zone ${zone}`,
        definition: `+proj=tmerc +lat_0=0 +lon_0=${3 * zone} +k=1 +x_0=${zone * 1_000_000 + 500_000} +y_0=0 ${DHDN} ${METRES}`,
        shiftAccuracyM: 3,
      };
    },
  },
  {
    from: 31254,
    to: 31256,
    system: (code) => ({
      name: `MGI / Austria GK ${['West', 'Central', 'East'][code - 31254]}`,
      definition: `+proj=tmerc +lat_0=0 +lon_0=${31 / 3 + 3 * (code - 31254)} +k=1 +x_0=0 +y_0=-5000000 ${MGI} ${METRES}`,
      shiftAccuracyM: 1.5,
    }),
  },
];

/** The system of an EPSG code, when it is one of those built in. */
export function knownSystem(code: number): KnownSystem | undefined {
  return SYSTEMS[code] ?? SERIES.find(({ from, to }) => code >= from && code <= to)?.system(code);
}

/**
 * Codes, from and to, for which the database's definition lies more than 5 m (most of them kilometres) from what
 * PROJ 9.1.1 gives in the middle of the system's area of use, after all 3,170 projected systems on a modern
 * ellipsoid that it holds were compared: an older datum on a modern ellipsoid, an oblique Mercator counted from
 * the wrong place, a false origin in the wrong unit. They are refused rather than placed wrongly. The last three
 * are the geographic systems of such datums.
 */
const UNSOUND: readonly (readonly [from: number, to: number])[] = [
  [2039, 2039],
  [2100, 2100],
  [2156, 2156],
  [2244, 2245],
  [2889, 2890],
  [3073, 3073],
  [3076, 3076],
  [3349, 3349],
  [3375, 3376],
  [3405, 3406],
  [3454, 3454],
  [3994, 3994],
  [4855, 4880],
  [5247, 5247],
  [5388, 5388],
  [5641, 5641],
  [5896, 5899],
  [6141, 6141],
  [6808, 6811],
  [6840, 6843],
  [6956, 6959],
  [6991, 6991],
  [6996, 6997],
  [7804, 7804],
  [9205, 9218],
  [26814, 26815],
  [26819, 26826],
  [26830, 26837],
  [26841, 26846],
  [31838, 31839],
  [31900, 31901],
  [4121, 4121],
  [4141, 4141],
  [4756, 4756],
];

/** Whether the large database must not be asked about a code. */
export function isUnsound(code: number): boolean {
  return UNSOUND.some(([from, to]) => code >= from && code <= to);
}

function sameSystem(codes: readonly number[], system: KnownSystem): Record<number, KnownSystem> {
  return Object.fromEntries(codes.map((code) => [code, system]));
}

function utm(datum: string, definition: string, zone: number, half: 'N' | 'S'): KnownSystem {
  const south = half === 'S' ? ' +south' : '';
  return {
    name: `${datum} / UTM zone ${zone}${half}`,
    definition: `+proj=utm +zone=${zone}${south} ${definition} ${METRES}`,
  };
}

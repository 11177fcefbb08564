import fc from 'fast-check';
import geodesic from 'geographiclib-geodesic';
import proj4 from 'proj4';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { coordinateSystem, type GeoKeys } from '../../lib/elevation/system/coordinate-system';
import { type FrameSpec, type LngLat, localFrame, makeFrame, type XY } from '../../lib/frame/frame';
import { groundOffset, radiiOfCurvature } from '../../lib/frame/ground-offset';
import { isSimilarity, localDistortion, metresPerUnit } from '../../lib/frame/local-distortion';

/**
 * The lot's frame against geodesics on the WGS 84 ellipsoid (Karney 2013, Algorithms for geodesics, Journal of
 * Geodesy 87, 43-55, through its own library), and projections against values that PROJ gave.
 */
const earth = geodesic.Geodesic.WGS84;
const options = { seed: 20, numRuns: 300 };

const place = fc.record({
  lng: fc.double({ min: -180, max: 180, noNaN: true }),
  lat: fc.double({ min: -84, max: 84, noNaN: true }),
});
const bearing = fc.double({ min: 0, max: 360, noNaN: true });

function distanceM(a: LngLat, b: LngLat): number {
  return earth.Inverse(a[1], a[0], b[1], b[0]).s12!;
}

function from([lng, lat]: LngLat, bearingDeg: number, lengthM: number): LngLat {
  const end = earth.Direct(lat, lng, bearingDeg, lengthM);
  return [end.lon2!, end.lat2!];
}

function between(a: XY, b: XY): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** Two places up to 300 m apart, both within 300 m of a centre. */
function pair(centre: LngLat, b1: number, b2: number, d1: number, d2: number): [LngLat, LngLat] {
  return [from(centre, b1, d1), from(centre, b2, d2)];
}
const reach = fc.double({ min: 1, max: 150, noNaN: true });

function areaM2(points: readonly LngLat[]): number {
  const polygon = earth.Polygon(false);
  for (const [lng, lat] of points) polygon.AddPoint(lat, lng);
  return Math.abs(polygon.Compute(false, true).area!);
}

function planarAreaM2(points: readonly XY[]): number {
  let twice = 0;
  points.forEach(([x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length];
    twice += x * nextY - nextX * y;
  });
  return Math.abs(twice) / 2;
}

/** The frame that a raster in a projection gives at a place. */
function frameOf(projection: string, centre: LngLat): FrameSpec {
  const plain = makeFrame({ projection, originEast: 0, originNorth: 0, metresPerUnit: 1 });
  const at = plain.toLocal(centre);
  const distortion = localDistortion((point) => plain.toLngLat(point), at, 50);
  expect(isSimilarity(distortion)).toBe(true);
  return {
    projection,
    originEast: Math.round(at[0]),
    originNorth: Math.round(at[1]),
    metresPerUnit: metresPerUnit(distortion),
  };
}

function checkDistances(
  spec: FrameSpec,
  centre: LngLat,
  ...turn: [number, number, number, number]
): void {
  const { toLocal, toLngLat } = makeFrame(spec);
  const [a, b] = pair(centre, ...turn);
  expect(Math.abs(between(toLocal(a), toLocal(b)) - distanceM(a, b))).toBeLessThan(0.01);
  expect(distanceM(toLngLat(toLocal(a)), a)).toBeLessThan(1e-4);
}

describe('the local frame, anywhere within 84 degrees of the equator', () => {
  it('is good to a centimetre over 300 m', () => {
    fc.assert(
      fc.property(place, bearing, bearing, reach, reach, ({ lng, lat }, ...turn) => {
        checkDistances(localFrame([lng, lat]), [lng, lat], ...turn);
      }),
      options,
    );
  });

  it('measures the area of a lot to a millionth', () => {
    fc.assert(
      fc.property(place, bearing, ({ lng, lat }, turn) => {
        const centre: LngLat = [lng, lat];
        const lot = [0, 80, 170, 260].map((angle, i) => from(centre, turn + angle, 20 + 25 * i));
        const { toLocal } = makeFrame(localFrame(centre));
        const planar = planarAreaM2(lot.map((point) => toLocal(point)));
        expect(Math.abs(planar / areaM2(lot) - 1)).toBeLessThan(1e-6);
      }),
      options,
    );
  });
});

describe('the frame of a raster', () => {
  it('in any UTM zone is good to a centimetre over 300 m', () => {
    const inZone = fc.record({
      zone: fc.integer({ min: 1, max: 60 }),
      offset: fc.double({ min: -3.5, max: 3.5, noNaN: true }),
      lat: fc.double({ min: -84, max: 84, noNaN: true }),
    });
    fc.assert(
      fc.property(inZone, bearing, bearing, reach, reach, ({ zone, offset, lat }, ...turn) => {
        const middle = 6 * zone - 183;
        const centre: LngLat = [middle + offset, lat];
        const half = lat < 0 ? ' +south' : '';
        const utm = `+proj=utm +zone=${zone}${half} +datum=WGS84 +units=m +no_defs`;
        checkDistances(frameOf(utm, centre), centre, ...turn);
      }),
      options,
    );
  });

  it.each([
    [
      'Lambert conic',
      '+proj=lcc +lat_0=46.5 +lon_0=3 +lat_1=49 +lat_2=44 +x_0=700000 +y_0=6600000 +ellps=GRS80 +units=m',
      [3.87, 43.59],
    ],
    [
      'oblique stereographic',
      '+proj=sterea +lat_0=52.156160556 +lon_0=5.387638889 +k=0.9999079 +x_0=155000 +y_0=463000 +datum=WGS84 +units=m',
      [4.9, 52.4],
    ],
    ['Mercator of the ellipsoid', '+proj=merc +lon_0=0 +k=1 +datum=WGS84 +units=m', [24.9, 60.2]],
    [
      'feet',
      '+proj=lcc +lat_0=37.67 +lon_0=-78.5 +lat_1=39.2 +lat_2=38.03 +x_0=3500000 +y_0=2000000 +ellps=GRS80 +units=us-ft',
      [-77, 38.8],
    ],
  ] as const)('in a conformal projection (%s) too', (_, projection, centre) => {
    const spec = frameOf(projection, [...centre]);
    for (let turn = 0; turn < 360; turn += 30)
      checkDistances(spec, [...centre], turn, turn + 140, 150, 140);
  });

  it.each([
    ['web Mercator', '+proj=merc +a=6378137 +b=6378137 +nadgrids=@null +units=m', [-77, 38.8]],
    [
      'an equal-area conic',
      '+proj=aea +lat_0=23 +lon_0=-96 +lat_1=29.5 +lat_2=45.5 +x_0=0 +y_0=0 +ellps=GRS80 +units=m',
      [-93, 45.2],
    ],
    ['an equirectangular grid', '+proj=eqc +lat_ts=0 +datum=WGS84 +units=m', [10, 50]],
  ] as const)('in %s is told to be no similarity', (_, projection, [lng, lat]) => {
    const plain = makeFrame({ projection, originEast: 0, originNorth: 0, metresPerUnit: 1 });
    const distortion = localDistortion((p) => plain.toLngLat(p), plain.toLocal([lng, lat]), 50);
    expect(isSimilarity(distortion)).toBe(false);
  });

  it('knows how far grid north stands from true north', () => {
    const utm = makeFrame({
      projection: '+proj=utm +zone=18 +datum=WGS84 +units=m',
      originEast: 0,
      originNorth: 0,
      metresPerUnit: 1,
    });
    const at = utm.toLocal([-77, 38.8]);
    const { northBearingDeg } = localDistortion((p) => utm.toLngLat(p), at, 50);
    const north = utm.toLngLat([at[0], at[1] + 500]);
    expect(northBearingDeg).toBeCloseTo(earth.Inverse(38.8, -77, north[1], north[0]).azi1!, 3);
  });
});

describe('ground offsets', () => {
  it('have the length and direction of the geodesic', () => {
    fc.assert(
      fc.property(
        place,
        bearing,
        fc.double({ min: 1, max: 1000, noNaN: true }),
        ({ lng, lat }, turn, lengthM) => {
          const [east, north] = groundOffset([lng, lat], from([lng, lat], turn, lengthM));
          expect(Math.abs(Math.hypot(east, north) / lengthM - 1)).toBeLessThan(1e-7);
          const { azi1, azi2 } = earth.Inverse(
            lat,
            lng,
            ...(from([lng, lat], turn, lengthM).toReversed() as [number, number]),
          );
          const middle = ((azi1! + azi2!) / 2) * (Math.PI / 180);
          // Bearings either side of south average to nothing; there the parts are compared.
          if (Math.abs(azi1! - azi2!) < 1) {
            expect(east / lengthM).toBeCloseTo(Math.sin(middle), 5);
            expect(north / lengthM).toBeCloseTo(Math.cos(middle), 5);
          }
        },
      ),
      options,
    );
  });

  it('rest on the radii of the ellipsoid', () => {
    // WGS 84: meridian radius b^2/a at the equator, both radii a^2/b at the poles (closed forms).
    const [a, b] = [6378137, 6378137 * (1 - 1 / 298.257223563)];
    expect(radiiOfCurvature(0).meridianM).toBeCloseTo((b * b) / a, 6);
    expect(radiiOfCurvature(0).primeVerticalM).toBe(a);
    expect(radiiOfCurvature(90).meridianM).toBeCloseTo((a * a) / b, 6);
    expect(radiiOfCurvature(-90).primeVerticalM).toBeCloseTo((a * a) / b, 6);
  });
});

describe('coordinate systems against PROJ', () => {
  interface Reference {
    readonly places: readonly {
      readonly epsg: number;
      readonly lng: number;
      readonly lat: number;
      readonly x: number;
      readonly y: number;
    }[];
  }
  const file = new URL('../../fixtures/reference/projections.json', import.meta.url);
  const { places } = JSON.parse(readFileSync(file, 'utf8')) as Reference;

  it.each(places)('EPSG:$epsg at $lng, $lat', async ({ epsg, lng, lat, x, y }) => {
    const degrees = epsg === 4326 || epsg === 4269;
    const system = await coordinateSystem(
      degrees
        ? { GTModelTypeGeoKey: 2, GeographicTypeGeoKey: epsg }
        : { GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: epsg },
      'reference.tif',
    );
    expect(system.kind).toBe(degrees ? 'degrees' : 'projected');
    const [east, north] = proj4('WGS84', system.definition).forward<[number, number]>([lng, lat]);
    const off = Math.hypot(east / system.unitFactor - x, north / system.unitFactor - y);
    // Older datums: PROJ may use a grid where a seven-parameter shift stands here.
    const toleranceM = system.shiftAccuracyM ?? 0.001;
    expect(off * (system.unitM ?? 111_320)).toBeLessThan(toleranceM);
  });
});

describe('projections that a file spells out, against PROJ', () => {
  interface SpelledOut {
    readonly from: string;
    readonly keys: GeoKeys;
    readonly lng: number;
    readonly lat: number;
    readonly x: number;
    readonly y: number;
  }
  const file = new URL('../../fixtures/reference/user-defined-projections.json', import.meta.url);
  const cases = JSON.parse(readFileSync(file, 'utf8')) as SpelledOut[];

  it.each(cases)('$from at $lng, $lat', async ({ keys, lng, lat, x, y }) => {
    const system = await coordinateSystem(keys, 'reference.tif');
    const [east, north] = proj4('WGS84', system.definition).forward<[number, number]>([lng, lat]);
    expect(Math.hypot(east / system.unitFactor - x, north / system.unitFactor - y)).toBeLessThan(
      0.001,
    );
  });
});

describe('coordinate systems that cannot be relied on', () => {
  it.each([
    [26718, 'elevation-datum-shift'],
    [2048, 'elevation-unknown-crs'],
    [2100, 'elevation-unknown-crs'],
    [20999, 'elevation-unknown-crs'],
  ])('EPSG:%s is refused', async (ProjectedCSTypeGeoKey, code) => {
    const keys = { GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey };
    await expect(coordinateSystem(keys, 'reference.tif')).rejects.toMatchObject({ code });
  });

  it('but a shift that the file itself gives is used', async () => {
    const system = await coordinateSystem(
      {
        GTModelTypeGeoKey: 1,
        ProjectedCSTypeGeoKey: 32767,
        GeographicTypeGeoKey: 4314,
        GeogTOWGS84GeoKey: [598.1, 73.7, 418.2, 0.202, 0.045, -2.455, 6.7],
        ProjCoordTransGeoKey: 1,
        ProjNatOriginLatGeoKey: 0,
        ProjNatOriginLongGeoKey: 9,
        ProjScaleAtNatOriginGeoKey: 1,
        ProjFalseEastingGeoKey: 3_500_000,
        ProjFalseNorthingGeoKey: 0,
        ProjLinearUnitsGeoKey: 9001,
      },
      'reference.tif',
    );
    const [east, north] = proj4('WGS84', system.definition).forward<[number, number]>([
      9.18, 48.78,
    ]);
    // The same zone and shift by its code.
    const coded = await coordinateSystem(
      { GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 31467 },
      'reference.tif',
    );
    const [x, y] = proj4('WGS84', coded.definition).forward<[number, number]>([9.18, 48.78]);
    expect(Math.hypot(east - x, north - y)).toBeLessThan(0.001);
  });
});

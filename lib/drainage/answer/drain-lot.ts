import { cellAt, cellCentre, type Grid } from '../../elevation/grid';
import type { LngLat, XY } from '../../frame/frame';
import { areaM2 } from '../../frame/shapes';
import type { BasinForm } from '../../ground/basin-form';
import type { Conduit } from '../../ground/conduits';
import type { Edit } from '../../ground/edit';
import type { Ground } from '../../ground/ground';
import type { Relevelled } from '../../ground/relevelled';
import { homeLot } from '../../plan/home-lot';
import type { LocalPlan } from '../../plan/local-plan';
import { ownLotsQuestions } from '../../plan/own-lot';
import { designInfiltration } from '../../soil/design-infiltration';
import { buildingRow } from './building-row';
import { contributingArea, openArea, patchesOfCells, toMultiPolygon } from './contributing-area';
import type {
  BasinRow,
  BuildingRow,
  BuiltFigures,
  DrainRow,
  Contributing,
  DrainageResult,
  EditRow,
  LowSpotRow,
  StandingRow,
} from './drainage-result';
import { doubtfulBelowM, errorsOf } from '../height-error/error-defaults';
import type { ErrorModel } from '../height-error/error-field';
import { ledgers } from './ledger';
import { levelTies } from './level-ties';
import { listedLowSpots, lowSpotName, type ListedLowSpot } from './listed-low-spots';
import { lineCrossings } from './line-crossings';
import { lotExchange } from './lot-exchange';
import { notJudged, notJudgedNotes, type NotJudged } from './not-judged';
import { worksNotJudged } from './works-not-judged';
import { lotRunOff } from './lot-run-off';
import { overflowCourse } from './overflow-course';
import { outlinedFromM } from './ponding-outlines';
import type { ShapedGround } from '../storm/shaped-ground';
import { spillOrder } from './spill-order';
import { spreadFlow } from '../terrain/spread-flow';
import { standingOnLot } from './standing-on-lot';
import { standingRows } from './standing-rows';
import { atOnce, type Steps } from '../steps';
import type { StormOnGround } from '../storm/storm-on-ground';
import { hourS } from '../../units/units';
import { nameById } from '../../plan/feature-name';

/** What a drainage result says beside what ground and storm are. */
export interface DrainAbout {
  /** Name of the elevation's coordinate system. */
  readonly crs: string;
  /** Stated vertical error of the elevation, metres; that of the usual kind of data where none is stated. */
  readonly rmseM?: number;
  /** Of each basin that was worked out, by id. */
  readonly built?: ReadonlyMap<string, BuiltFigures>;
  /** Also find the rain at which each low spot begins to spill. */
  readonly order?: boolean;
  /** Notes on the elevation, to stand before those on the storm. */
  readonly notes?: readonly string[];
}

/** Everything one storm on one ground has to say, as `lotfall drainage --json` prints it. */
export function drainLot(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  about: DrainAbout,
): DrainageResult {
  return atOnce(drainSteps(shape, storm, plan, about));
}

/** The steps of `drainLot`. */
export function* drainSteps(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  about: DrainAbout,
): Steps<DrainageResult> {
  const { ground, terrain } = shape;
  const { grid } = ground;
  const { built = new Map<string, BuiltFigures>() } = about;
  yield { fraction: 0, stage: 'Describing low spots' };
  const spots = listedLowSpots(ground, terrain);
  const errors = errorsOf(
    shape.elevation.cellM,
    about.rmseM === undefined ? {} : { rmseM: about.rmseM },
  );
  const rows = spots.map((spot) => lowSpotRow(shape, plan, spot, errors));
  const ties = levelTies(ground.relevelled, plan, errors);
  const spillsFrom = about.order === true ? spillOrder(shape, plan, spots) : null;
  const ownLot = ground.lots.findIndex((lot) => lot.own);
  yield { fraction: 0.1, stage: 'Adding up what drains where' };
  const weights = openArea(shape, storm);
  const drainsM2 = spreadFlow(shape.routing, weights, weights);
  const standing = outlined(standingRows(shape, storm, spots), shape, storm, plan, spots);
  const contributing = yield* contributingSteps(shape, storm, plan, spots, ownLot);
  const unread = notJudged(shape.elevation, plan);
  const buildings = yield* buildingSteps(shape, storm, plan, unread, drainsM2);
  yield { fraction: 0.7, stage: 'Adding up what crosses lot lines' };
  const books = ledgers(shape, storm, plan);
  yield { fraction: 0.95, stage: 'Following overflows' };
  const basins = ground.basins.map((basin) =>
    basinRow(shape, storm, plan, basin, built.get(basin.id) ?? null),
  );

  return {
    grid: { width: grid.width, height: grid.height, cell_m: grid.cellM, crs: about.crs },
    rain_mm: storm.rainMm,
    low_spots:
      spillsFrom === null
        ? rows
        : rows.map((row, i) => ({ ...row, spills_from_mm: spillsFrom[i] })),
    standing,
    buildings,
    exchange: lotExchange(books),
    crossings: ownLot === -1 ? null : lineCrossings(shape, storm, plan, ownLot),
    not_judged: unread,
    basins,
    ...(ties.length === 0 ? {} : { level_ties: ties }),
    edits: ground.edits.map((edit) => editRow(edit, ground.basins, built)),
    drains: storm.conduits.flatMap(({ conduit, volumeM3 }) =>
      drainRows(grid, plan, conduit, volumeM3),
    ),
    ledger: ownLot === -1 ? null : books[ownLot],
    standing_on_lot: ownLot === -1 ? null : standingOnLot(books[ownLot].standing_m3, standing),
    run_off: ownLot === -1 ? null : lotRunOff(shape, storm, plan, ownLot),
    contributing,
    notes: [
      ...new Set([
        ...(about.notes ?? []),
        ...ownLotsQuestions(plan.of.lot.map(({ feature }) => feature)),
        ...notJudgedNotes(unread),
        ...ties.map(({ feature, says }) => `${nameOf(plan, feature)}: ${says}`),
        ...worksNotJudged(plan, grid, storm.depthM),
        ...ground.edits.flatMap(({ id, notes }) =>
          notes.map((note) => `${nameOf(plan, id)}: ${note}`),
        ),
        ...storm.surfaces.notes,
        ...storm.roofs.notes,
        ...storm.notes,
        ...uptakeNotes(shape, plan),
        ...basins.flatMap((basin) => cellsNote(basin, nameOf(plan, basin.id))),
      ]),
    ],
  };
}

function* contributingSteps(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  spots: readonly ListedLowSpot[],
  ownLot: number,
): Steps<Contributing[]> {
  const asked = placesAsked(shape, plan, spots, ownLot);
  const contributing: Contributing[] = [];
  for (const { feature, name, cells } of asked) {
    yield {
      fraction: 0.2 + (0.4 * contributing.length) / asked.length,
      stage: `Finding what drains to ${name}`,
    };
    contributing.push(contributingArea(shape, storm, plan, cells, feature));
  }
  return contributing;
}

/** Of which places it is told what drains to them: own lots, basins, and the low spots of the first own lot. */
function placesAsked(
  { ground }: ShapedGround,
  plan: LocalPlan,
  spots: readonly ListedLowSpot[],
  ownLot: number,
): { feature: string; name: string; cells: Int32Array }[] {
  const drawn = [...ground.lots.filter((lot) => lot.own), ...ground.basins];
  const low = spots.filter(({ pitCell }) => ownLot !== -1 && ground.lotOf[pitCell] === ownLot);
  return [
    ...drawn.map(({ id, cells }) => ({ feature: id, name: nameOf(plan, id), cells })),
    ...low.map(({ key, number, cells }) => ({ feature: key, name: lowSpotName(number), cells })),
  ].filter(({ cells }) => cells.length > 0);
}

/** @param drainsM2 - open ground that drains to each cell. */
function* buildingSteps(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  unread: readonly NotJudged[],
  drainsM2: Float64Array,
): Steps<BuildingRow[]> {
  const isJudged = (id: string): boolean =>
    unread.every(({ feature, whole }) => feature !== id || !whole);
  const buildings: BuildingRow[] = [];
  for (const building of plan.of.building) {
    if (!isJudged(building.id)) continue;
    yield {
      fraction: 0.6 + (0.1 * buildings.length) / plan.of.building.length,
      stage: 'Looking along walls',
    };
    buildings.push(buildingRow(shape, storm, plan, building, drainsM2));
  }
  return buildings;
}

function nameOf(plan: LocalPlan, id: string): string {
  return nameById(plan.plan.features, id);
}

/** Why the ledger has a little more or less in a basin than its design. */
function cellsNote({ holds_m3, cells_hold_m3 }: BasinRow, name: string): string[] {
  if (holds_m3 === null || holds_m3 === 0) return [];
  const more = Math.round(100 * (cells_hold_m3 / holds_m3 - 1));
  if (more === 0) return [];
  return [
    `${name}: the ledger counts whole cells of the elevation, which hold ${Math.abs(more)} % ${more > 0 ? 'more' : 'less'} up to the sill than the bowl as it is built. What its design says that it captures differs by about as much water.`,
  ];
}

/** What has to be said of the soil's rate, where basins take water in by it. */
function uptakeNotes({ ground }: ShapedGround, { plan, of }: LocalPlan): readonly string[] {
  if (!ground.conduits.some(({ outlet }) => outlet === 'soil')) return [];
  const tests = of['soil-test'].map(({ feature }) => feature);
  return designInfiltration(plan.lotfall.soil, tests).notes;
}

/** The rows with the outline of the water of each. */
function outlined(
  standing: readonly StandingRow[],
  { ground }: ShapedGround,
  { depthM }: StormOnGround,
  plan: LocalPlan,
  spots: readonly ListedLowSpot[],
): StandingRow[] {
  const cellsOf = new Map(spots.map(({ key, cells }) => [key, cells]));
  return standing.map((row) => {
    const cells = cellsOf.get(row.id) ?? new Int32Array();
    const wet = cells.filter((cell) => depthM[cell] > outlinedFromM);
    return { ...row, outline: toMultiPolygon(patchesOfCells(ground.grid, wet), plan.frame) };
  });
}

/** What basins take into the soil is no drain: it stands with the ledger. */
function drainRows(
  grid: Grid,
  plan: LocalPlan,
  { id, outlet, capacityM3PerS, blocked }: Conduit,
  carriedM3: number,
): DrainRow[] {
  if (outlet === 'soil') return [];
  return [
    {
      id,
      to: typeof outlet === 'number' ? lngLatOf(grid, plan, outlet) : outlet,
      capacity_m3_per_h: capacityM3PerS * hourS,
      carried_m3: carriedM3,
      blocked,
    },
  ];
}

/** From this share on the height of a cell is one of levels. Our choice, no source. */
const mostlyLevels = 0.5;

function lowSpotRow(
  { ground }: ShapedGround,
  plan: LocalPlan,
  spot: ListedLowSpot,
  errors: ErrorModel,
): LowSpotRow {
  const { grid, lotOf, lots, basins } = ground;
  const near = errorsAt(ground, spot, errors);
  const lot = lotOf[spot.pitCell];
  // A basin is dug as drawn, whatever the error of the heights.
  const isDug = basins.some(({ cells }) => cells.includes(spot.pitCell));
  const [pitX, pitY] = cellCentre(grid, spot.pitCell);
  const [spillX, spillY] = cellCentre(grid, spot.spillCell);
  return {
    id: spot.key,
    number: spot.number,
    area_m2: spot.areaM2,
    depth_m: spot.depthM,
    volume_m3: spot.volumeM3,
    deepest: lngLatOf(grid, plan, spot.pitCell),
    spill: lngLatOf(grid, plan, spot.spillCell),
    lot: lot === -1 ? null : lots[lot].id,
    doubtful: !isDug && spot.depthM < doubtfulBelowM(near, spillX - pitX, spillY - pitY),
    enclosed: spot.enclosed,
    outline: toMultiPolygon(patchesOfCells(grid, spot.cells), plan.frame),
  };
}

/** The error of the heights that a low spot hangs on: that of levels where they replace the elevation at its pit and its pass. */
function errorsAt(
  { grid, relevelled }: Ground,
  spot: ListedLowSpot,
  errors: ErrorModel,
): ErrorModel {
  const isBy = ({ cells, shares }: Relevelled, cell: number): boolean => {
    const at = cells.indexOf(cell);
    return at !== -1 && shares[at] > mostlyLevels;
  };
  const by = relevelled.find((each) => isBy(each, spot.pitCell) && isBy(each, spot.spillCell));
  return by === undefined ? errors : errorsOf(grid.cellM, { rmseM: by.errorM });
}

function basinRow(
  shape: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  basin: BasinForm,
  built: BuiltFigures | null,
): BasinRow {
  const { ground, terrain, cellM2 } = shape;
  const { grid } = ground;
  const legs = overflowCourse(shape, plan, basin, 0).ways.at(0)?.legs ?? [];
  const overflowLegs = legs.map(({ points, ...leg }) => ({
    ...leg,
    points: points.map((at) => plan.frame.toLngLat(at)),
  }));
  const rim = plan.of.basin.find(({ id }) => id === basin.id)?.shape.rings[0];
  const home = rim === undefined ? undefined : homeLot(plan, rim);
  let holds = 0;
  let standing = 0;
  for (const cell of basin.cells) {
    holds += terrain.filled[cell] - terrain.z[cell];
    standing += storm.depthM[cell];
  }
  const { datumM } = grid;
  return {
    id: basin.id,
    area_m2: areaM2([basin.rim]),
    holds_m3: built?.holdsM3 ?? null,
    cells_hold_m3: holds * cellM2,
    standing_m3: standing * cellM2,
    rim_m: datumM + basin.rimM,
    overflow_m: datumM + basin.overflowM,
    floor_m: datumM + basin.floorM,
    overflow_at: plan.frame.toLngLat(basin.overflowAt),
    overflow_path: overflowLegs.flatMap(({ points }) => points),
    overflow_legs: overflowLegs,
    overflow_reaches: firstNeighbour(
      shape,
      legs.flatMap(({ by, points }) => (by === 'ground' ? points : [])),
      home?.id,
    ),
    cut_m3: built?.cutM3 ?? null,
    fill_m3: built?.fillM3 ?? null,
  };
}

/** What was done to the ground: cut and fill of a basin are those of the basin as it is built, not of the grid's coarser cells. */
function editRow(
  { id, kind, cutM3, fillM3, notes }: Edit,
  basins: readonly BasinForm[],
  built: ReadonlyMap<string, BuiltFigures>,
): EditRow {
  const isBasin = basins.some((basin) => basin.id === id);
  const moved = isBasin ? built.get(id) : { cutM3, fillM3 };
  return { id, kind, cut_m3: moved?.cutM3 ?? null, fill_m3: moved?.fillM3 ?? null, notes };
}

/** Id of the first lot of another owner on a way over the ground, the one it starts on not counted; null when it meets none. */
function firstNeighbour(
  { ground }: ShapedGround,
  way: readonly XY[],
  home: string | undefined,
): string | null {
  for (const place of way) {
    const cell = cellAt(ground.grid, ...place);
    if (cell === -1 || ground.lotOf[cell] === -1) continue;
    const lot = ground.lots[ground.lotOf[cell]];
    if (!lot.own && lot.id !== home) return lot.id;
  }
  return null;
}

function lngLatOf(grid: Grid, plan: LocalPlan, cell: number): LngLat {
  return plan.frame.toLngLat(cellCentre(grid, cell));
}

import type { FeatureCollection } from 'geojson';
import type { Snippet } from 'svelte';
import type { Grid } from '../../../lib/elevation/grid';
import type { LngLat, XY } from '../../../lib/frame/frame';
import type { Kind, Plan, PlanFeature } from '../../../lib/plan/schema';
import type { Rest } from './hands/map-pointer';
import type { Backdrop } from '../state/session/backdrop';
import type { LngLatBox } from '../../../lib/plan/plan-area';
import type { ContourLine } from '../worker/analysis-api';
import type { DigZones } from '../worker/dig-zones';
import type { DrawnTape } from './overlay/drawn-tape';
import type { Drafting } from '../state/drawing/drafting.svelte';
import type { Draft, Part } from './layers/draft';
import type { ExchangeArrow } from '../state/answers/exchange-arrows';
import type { FlowLines, LowSpots, Probe, WayLeg } from './layers/sheet-content';
import type { KeepClear } from '../worker/keep-clear';
import type { Margin } from '../state/answers/findings';
import type { LaidUnder, Padding } from './layers/sheet-map';
import type { LaidMark } from './overlay/laid-mark';
import type { PlanGeometry } from '../state/plan/plan-geometry';
import type { SheetImage } from '../worker/sheet-image';
import type { Site } from './layers/drawn-sites';
import type { Target } from '../state/session/target';
import type { Theme } from '../look/ink';
import type { Tool, PlacedOutline } from '../state/session/tool';
import type { UnitSystem } from '../../../lib/units/units';

/** Where the user stands. */
export interface OwnMark {
  readonly at: LngLat;
  readonly accuracyM: number;
  /** Where the device points, degrees clockwise from north; `null` without a compass. */
  readonly pointsDeg: number | null;
  readonly text: string;
}

/** The drawing of the lot: what lies on it, what is done on it, and who hears of it. All but the plan is optional. */
export interface MapSheetProps {
  plan: Plan;
  theme?: Theme;
  units?: UnitSystem;
  /** The elevation grid, for its edge, its frame and the height under the pointer. */
  grid?: Grid | null;
  relief?: SheetImage | null;
  contours?: readonly ContourLine[];
  water?: SheetImage | null;
  flowLines?: FlowLines | null;
  lowSpots?: LowSpots | null;
  probe?: Probe | null;
  /** Where the basins' overflow runs. */
  overflow?: readonly WayLeg[];
  keepClear?: KeepClear | null;
  digZones?: DigZones | null;
  margins?: readonly Margin[];
  /** What lots send each other in the storm. */
  exchange?: readonly ExchangeArrow[];
  sites?: readonly Site[];
  /** Where the next levels are to be read, in the order of their numbers. */
  readings?: readonly LngLat[];
  /** Anything to be lit while its row or segment beside the map is pointed at. */
  spotlight?: FeatureCollection | null;
  /** What a proposal would put into the plan, and levels of the beds that it digs. */
  proposed?: FeatureCollection | null;
  /** What would come in from files, while it is looked through. */
  gathered?: readonly PlanFeature[];
  backdrop?: Backdrop | null;
  /** Ids of basins that fail a rule. */
  failing?: readonly string[];
  /** How strongly map tiles and the relief are drawn. */
  tilesOpacity?: number;
  reliefOpacity?: number;
  /** Photographs and pictures under the drawing, the lowest first. */
  underlays?: readonly LaidUnder[];
  /** Points by which a picture is laid: where each belongs, and the one that is taken up. */
  laidPoints?: readonly LaidMark[];
  /** The tape, while it is in hand. */
  tape?: DrawnTape | null;
  /** Where the user stands, in words too; `null` while that is not known. */
  own?: OwnMark | null;
  /** Whether the user's place is followed. */
  isFollowed?: boolean;
  tool?: Tool;
  /** What is being drawn corner by corner. */
  drafting?: Drafting | null;
  /** Id of the selected feature of the plan. */
  selected?: string | null;
  /** A site, low spot or zone that is picked. */
  picked?: Target | null;
  /** What is pointed at from beside the map. */
  hover?: Target | null;
  /** Keeps the view within bounds. */
  viewBounds?: LngLatBox | null;
  /** Ground to go to; a new object goes there again. */
  lookAt?: LngLatBox | null;
  /** Room around the lot when it is fitted to the sheet. */
  padding?: Padding;
  /** Stands in the lower right corner of a sheet so many pixels wide. */
  titleBlock?: Snippet<[number]>;
  /** Stands at the top, over the drawing. */
  topNote?: Snippet;
  /** All that is chosen, where that is several features. */
  group?: readonly string[];
  /** Whether the sides of what is selected carry their lengths. */
  sides?: boolean;
  /** Something was clicked; with `isMore` it is to be chosen beside what is. */
  onSelect?: (id: string | null, isMore: boolean) => void;
  /** Features that lie wholly within a box that was dragged. */
  onChooseIn?: (ids: readonly string[]) => void;
  /** What is chosen is dragged by metres east and north; null when that was dropped. */
  onMoveGroup?: (by: XY | null, isDone: boolean) => void;
  onPick?: (target: Target | null) => void;
  onHover?: (target: Target | null) => void;
  /** The place under the pointer, at most once a frame; `null` when it leaves the map. */
  onPoint?: (place: LngLat | null) => void;
  /** A click on bare ground, or anywhere with the probe in hand. */
  onProbe?: (place: LngLat) => void;
  /** The tape is led on to a place, or back to its first point. */
  onTape?: (to: LngLat | 'first') => void;
  /** A press while a picture is laid; beside it what it catches of the plan, else the same place. */
  onLay?: (place: LngLat, caught: LngLat) => void;
  /** The source of map tiles gives none. */
  onNoTiles?: (backdrop: Backdrop) => void;
  /** The tape is taken up, or put away. */
  onTakeTape?: () => void;
  /** The user's own place is asked for, or no more. */
  onOwnPlace?: () => void;
  /** An outline that was drawn as a whole is where it should be. */
  onDraw?: (geometry: PlanGeometry, kind: Kind) => void;
  /** The outline that is drawn as a whole lies elsewhere, or is turned or of another size. */
  onOutline?: (outline: PlacedOutline) => void;
  onDraft?: (draft: Draft | null) => void;
  /** @param joins - whether it goes on with the change before. */
  onCommit?: (id: string, geometry: PlanGeometry, part: Part, joins: boolean) => void;
  /** Keys have led the cursor to a place, over what is named; `null` when it is taken off the map. */
  onCursor?: (cursor: { readonly place: LngLat; readonly over: Target | null } | null) => void;
  /** The next feature in order is asked for, or the one before. */
  onWalk?: (step: 1 | -1) => void;
  onDelete?: (id: string) => void;
  /** Escape was pressed on the map with no gesture to drop. */
  onEscape?: () => void;
  /** The map cannot be shown, with the reason in the browser's words. */
  onFailure?: (reason: string) => void;
  /** The view has come to rest elsewhere. */
  onView?: (view: Rest) => void;
}

import type {
  DrainageResult,
  FlowLine,
  PipeLine,
} from '../../../lib/drainage/answer/drainage-result';
import type { DifferenceDoubt } from '../../../lib/drainage/certainty/difference-doubt';
import type { ErrorModel } from '../../../lib/drainage/height-error/error-field';
import type { StandingOnLot } from '../../../lib/drainage/answer/standing-on-lot';
import type { Ledger } from '../../../lib/drainage/answer/ledger';
import type { NextReading } from '../../../lib/drainage/answer/measure-next';
import type { ObservedRow } from '../../../lib/drainage/answer/observed-water';
import type { PointAnswer } from '../../../lib/drainage/answer/probe-point';
import type { ElevationIdentity } from '../../../lib/elevation/file/elevation-identity';
import type { Grid } from '../../../lib/elevation/grid';
import type { ElevationDescription } from '../../../lib/elevation/file/open-elevation';
import type { ExportFormat } from '../../../lib/handover/export/export-formats';
import type { JobDocuments } from '../../../lib/handover/job/job-documents';
import type { Note } from '../../../lib/elevation/note';
import type { InputProblem, Progress } from '../../../lib/errors';
import type { FrameSpec, LngLat } from '../../../lib/frame/frame';
import type { UnitSystem } from '../../../lib/units/units';
import type { Change } from '../../../lib/plan/change';
import type { Plan } from '../../../lib/plan/schema';
import type { Proposal, RemediesResult } from '../../../lib/remedies/remedies-result';
import type { DesignPicture, OpenedRecord } from './design-picture';
import type { SetOptions, SetPage } from './drawing-set';
import type { DigZones } from './dig-zones';
import type { KeepClear } from './keep-clear';
import type { ReviewPacket } from './review-packet';
import type { SheetImage } from './sheet-image';
import type { AskedPlace, PlacesPicture } from './places-picture';

/** An elevation file as the page names it. */
export type PageSource =
  { readonly name: string; readonly blob: Blob } | { readonly name: string; readonly url: string };

/** An elevation file that the worker has opened. */
export interface OpenedElevation {
  /** The task that opened it, by which the worker knows it. */
  readonly file: number;
  readonly description: ElevationDescription;
  readonly identity: ElevationIdentity;
}

/** A plan as asked about, on a ground that has been read. */
export interface PlanOnGround {
  /** Number of the survey that read the ground. */
  readonly ground: number;
  /** By which the page knows this state of the plan. */
  readonly version: number;
  readonly plan: Plan;
}

/** An answer, and the ground and plan that it was made from. */
export interface MadeFrom<T> {
  readonly ground: number;
  readonly version: number;
  readonly answer: T;
}

/** All lines of one height. */
export interface ContourLine {
  readonly elevationM: number;
  /** Whether it is drawn heavier and carries its height. */
  readonly index: boolean;
  readonly lines: readonly (readonly LngLat[])[];
  /** Written instead of the rounded height, for example '332' feet. */
  readonly label?: string;
}

/** The ground read for a lot, ready to be drawn. */
export interface GroundPicture {
  /** The survey that read it, by which the worker knows it. */
  readonly number: number;
  readonly grid: Grid;
  readonly relief: SheetImage;
  readonly contours: readonly ContourLine[];
  /** In whose round heights they lie. */
  readonly contourUnits: UnitSystem;
  readonly notes: readonly Note[];
  /** What the heights of the file are in, as it says or as the user said. */
  readonly heightsIn: string;
  /** Difference between highest and lowest cell, metres. */
  readonly reliefM: number;
}

/** Water on the ground for the plan's storm, ready to be drawn. */
export interface WaterPicture {
  readonly result: DrainageResult;
  /** Ledger of the same storm without any basin; null when the plan has none. */
  readonly before: Ledger | null;
  /** Standing water by cell on that ground, metres; null when the plan has no basin. */
  readonly depthBeforeM: Float32Array<ArrayBuffer> | null;
  readonly depthM: Float32Array<ArrayBuffer>;
  /** 1 for each cell in which standing water is to be reckoned with, 0 where it may be no more than the error of the heights. */
  readonly sure: Uint8Array<ArrayBuffer>;
  readonly flowLines: readonly FlowLine[];
  /** What runs through drains. */
  readonly pipeLines: readonly PipeLine[];
  /** Water that somebody saw, beside what is reckoned for the same rain. */
  readonly seen: readonly ObservedRow[];
  /** Where one more level would settle most, on ground that is of levels. */
  readonly next: readonly NextReading[];
}

/** The bed of a swale that would be dug, station by station; elevations in metres above the datum of the source. */
export interface BedPicture {
  /** Of the swale. */
  readonly id: string;
  readonly places: readonly LngLat[];
  /** Distance from the first point, metres. */
  readonly alongM: Float64Array;
  readonly bedM: Float64Array;
  /** `NaN` where there is none. */
  readonly groundM: Float64Array;
}

/** A plan with a proposal taken into it, ready to be drawn. */
export interface RemedyPicture {
  readonly water: WaterPicture;
  readonly beds: readonly BedPicture[];
}

/** Water on the ground as it stands today, where the plan says of anything that it is to come or to go. */
export interface ExistingState {
  readonly water: WaterPicture;
  /** The ground that it runs over: that on the sheet, or one of today's levels. */
  readonly grid: Grid;
}

/** Standing water of another depth of rain on the same ground. */
export interface PondingPicture {
  readonly rainMm: number;
  readonly depthM: Float32Array<ArrayBuffer>;
  readonly standing: DrainageResult['standing'];
  readonly standingOnLot: StandingOnLot;
}

/** Something laid under the drawing, read from a file. */
export interface BackdropPicture {
  /** A photograph, or the relief of what stands on the ground. */
  readonly kind: 'photo' | 'surface';
  readonly laid: SheetImage;
  readonly systemName: string;
}

/** Heights along a line, station by station; elevations in metres above the datum of the source, `NaN` where there is none. */
export interface ProfilePicture {
  readonly line: readonly LngLat[];
  /** Distance from the first point, metres. */
  readonly alongM: Float64Array<ArrayBuffer>;
  readonly places: readonly LngLat[];
  /** As read. */
  readonly readM: Float64Array<ArrayBuffer>;
  /** As the plan has it: graded, dug and walled; none under buildings. */
  readonly plannedM: Float64Array<ArrayBuffer>;
  /** The cell of each station, -1 outside, and its own height in the plan, by which water stands in it. */
  readonly cells: Int32Array<ArrayBuffer>;
  readonly cellM: Float64Array<ArrayBuffer>;
}

/** The rain at which one low spot begins to spill. */
export interface SpillRain {
  /** Of the low spot. */
  readonly id: string;
  /** Null where it has room for any rain that may fall. */
  readonly spillsFromMm: number | null;
}

/** How places are looked for. */
export interface PlacesTerms {
  /** ISO date on which locates must be current. */
  readonly today: string;
  /** How many basins may share the water. */
  readonly basins: number;
}

/** How a task in the worker ended: with a value, with a problem the user can act on, or cancelled. */
export type Ended<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: InputProblem }
  | { readonly ok: false; readonly problem: null };

/** Of which plan a packet is drawn. */
export interface PacketAsked {
  readonly plan: Plan;
  readonly frame: FrameSpec;
  readonly ground: number | null;
  /** What its file would be called. */
  readonly file: string;
  /** ISO date that the packet is of, and on which locates must be current. */
  readonly date: string;
  /** The submission before, as its file has it. */
  readonly earlier: { readonly file: string; readonly text: string } | null;
}

/** What the worker does for the page. Every call settles; tasks are numbered by the page so that it can cancel them. */
export interface AnalysisApi {
  openElevation: (task: number, source: PageSource) => Promise<Ended<OpenedElevation>>;
  /** Reads ground around the plan and shapes it; the grounds that there are stay. */
  survey: (
    task: number,
    from: { readonly file: number; readonly verticalUnitM: number | null },
    plan: Plan,
    onProgress: Progress,
  ) => Promise<Ended<GroundPicture>>;
  /** Tells which ground is on the sheet; the worker forgets the others. */
  goOnWith: (ground: number) => void;
  /** `uptakeM3`: what each basin, by id, takes in while it rains; from its design. */
  drain: (
    task: number,
    asked: PlanOnGround,
    uptakeM3: ReadonlyMap<string, number>,
    onProgress: Progress,
  ) => Promise<Ended<MadeFrom<WaterPicture>>>;
  /** Standing water alone, where the plan differs from the last one in its storm. */
  ponding: (
    task: number,
    asked: PlanOnGround,
    uptakeM3: ReadonlyMap<string, number>,
  ) => Promise<Ended<MadeFrom<PondingPicture>>>;
  /** The rain at which low spots of the own lot begin to spill. */
  spills: (task: number, asked: PlanOnGround) => Promise<Ended<MadeFrom<SpillRain[]>>>;
  /** Contours at round heights in the units of the plan. */
  contours: (task: number, asked: PlanOnGround) => Promise<Ended<MadeFrom<ContourLine[]>>>;
  /** Reads a photograph or a second raster of heights around the plan's lot. */
  backdrop: (
    task: number,
    source: { readonly name: string; readonly blob: Blob },
    plan: Plan,
  ) => Promise<Ended<BackdropPicture>>;
  /** Heights along a line. */
  profile: (
    task: number,
    asked: PlanOnGround,
    line: readonly LngLat[],
  ) => Promise<Ended<MadeFrom<ProfilePicture>>>;
  /** The answer for the plan as it stands today. */
  existing: (
    task: number,
    asked: PlanOnGround,
    onProgress: Progress,
  ) => Promise<Ended<MadeFrom<ExistingState>>>;
  /** How far the error of the heights moves what differs between the two states, by `figureKey`. */
  differenceDoubt: (
    task: number,
    asked: PlanOnGround,
    uptakeM3: ReadonlyMap<string, number>,
    errors: ErrorModel,
    onProgress: Progress,
  ) => Promise<Ended<MadeFrom<ReadonlyMap<string, DifferenceDoubt>>>>;
  probe: (
    task: number,
    asked: PlanOnGround,
    at: LngLat,
  ) => Promise<Ended<MadeFrom<PointAnswer | null>>>;
  keepClear: (task: number, plan: Plan, frame: FrameSpec) => Promise<Ended<KeepClear>>;
  /** `today`: ISO date on which locates must be current. */
  digZones: (task: number, plan: Plan, frame: FrameSpec, today: string) => Promise<Ended<DigZones>>;
  /** Looks for places; `onPlaces` gets the best so far now and then. */
  places: (
    task: number,
    asked: PlanOnGround,
    terms: PlacesTerms,
    onProgress: Progress,
    onPlaces: (soFar: PlacesPicture) => void,
  ) => Promise<Ended<MadeFrom<PlacesPicture>>>;
  /** Why a basin can lie at a place, or why not. */
  askPlace: (
    task: number,
    asked: PlanOnGround,
    terms: PlacesTerms,
    at: LngLat,
    onProgress: Progress,
  ) => Promise<Ended<MadeFrom<AskedPlace>>>;
  /**
   * Tries what would dry wet walls; `onProposal` gets each proposal as it comes, and again when more is known of it.
   *
   * @param today - ISO date on which locates must be current.
   */
  remedies: (
    task: number,
    asked: PlanOnGround,
    today: string,
    onProgress: Progress,
    onProposal: (proposal: Proposal) => void,
  ) => Promise<Ended<MadeFrom<RemediesResult>>>;
  /** The answer for the plan with a change that is not in it yet. */
  withRemedy: (
    task: number,
    asked: PlanOnGround,
    change: Change,
    onProgress: Progress,
  ) => Promise<Ended<MadeFrom<RemedyPicture>>>;
  /** Works out the basins of the plan: filling, draining, sizing, quantities. */
  design: (
    task: number,
    asked: PlanOnGround,
    record: OpenedRecord | null,
    onProgress: Progress,
  ) => Promise<Ended<MadeFrom<DesignPicture>>>;
  /** Draws the drawing set of a plan; `ground` is null where there is none. */
  drawSet: (
    task: number,
    asked: { readonly plan: Plan; readonly frame: FrameSpec; readonly ground: number | null },
    options: SetOptions,
    onProgress: Progress,
  ) => Promise<Ended<readonly SetPage[]>>;
  /** The set drawn last, as PDF. */
  setPdf: (task: number) => Promise<Ended<Uint8Array<ArrayBuffer>>>;
  /** One page of the set drawn last as an SVG file that needs nothing beside it. */
  setSvg: (task: number, page: number) => Promise<Ended<string>>;
  /** Orders, steps of work, plants and dates of a plan. `today`: ISO date that they are of. */
  job: (task: number, asked: PlanOnGround, today: string) => Promise<Ended<MadeFrom<JobDocuments>>>;
  /** A plan as a file of another program; `ground` is null where there is none. */
  exported: (
    task: number,
    asked: { readonly plan: Plan; readonly ground: number | null },
    format: ExportFormat,
  ) => Promise<Ended<string | Uint8Array>>;
  /** Judges a plan, beside an earlier one where there is one, and draws its packet. */
  packet: (task: number, asked: PacketAsked) => Promise<Ended<ReviewPacket>>;
  cancel: (task: number) => void;
}

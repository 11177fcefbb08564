import type { CatchLine } from '../../../../lib/drawing/catches';
import { flagsAlong, type Flag } from '../../../../lib/drawing/flags';
import { withSideLength } from '../../../../lib/drawing/side-length';
import { closedSquare, type ClosedSquare } from '../../../../lib/drawing/square';
import { directionOf } from '../../../../lib/drawing/turns';
import { InputError } from '../../../../lib/errors';
import { bearingVector } from '../../../../lib/frame/bearing-vector';
import {
  localFrame,
  makeFrame,
  type Frame,
  type LngLat,
  type XY,
} from '../../../../lib/frame/frame';
import { geometryTypeOf, type Kind } from '../../../../lib/plan/schema';
import { parseBearing, parseTurn } from '../../../../lib/units/parse-angle';
import { parseLength } from '../../../../lib/units/parse-length';
import type { UnitSystem } from '../../../../lib/units/units';
import type { UtilityService } from '../../look/ink';
import { knownAt, nextCorner, type NextCorner, type Sighted, type Way } from './next-corner';
import type { PlanGeometry } from '../plan/plan-geometry';
import type { Session } from '../session/session.svelte';
import type { DrawnOnto, Tool } from '../session/tool';

/** A corner of what is being drawn, and how it was found. */
export interface PlacedCorner {
  readonly at: LngLat;
  readonly how: string;
}

/** What drawing asks of and tells its owner. */
export interface DraftingPort {
  /** The plan's frame; null while there is neither elevation nor anything drawn. */
  frame(): Frame | null;
  units(): UnitSystem;
  /** Lines that catch corners, metres in the frame. */
  lines(): readonly CatchLine[];
  /** What is drawn is complete. Returns a sentence where it cannot be taken. */
  drawn(
    geometry: PlanGeometry,
    kind: Kind,
    given: Readonly<Record<string, unknown>>,
  ): string | null;
  /** A line that splits an outline, or a hole in it, is complete. Returns a sentence where nothing comes of it. */
  drawnOnto(onto: DrawnOnto, places: readonly LngLat[]): Promise<string | null>;
}

/** Fields that figures are typed in. */
export type TypedField = 'length' | 'turn' | 'bearing' | 'first' | 'second';
type Typed = Readonly<Record<TypedField, string>>;

const nothingTyped: Typed = { length: '', turn: '', bearing: '', first: '', second: '' };

/** Of one drawing: it belongs to the tool that it was begun with, and with another it is void. */
interface Begun {
  readonly tool: Tool;
  readonly corners: readonly PlacedCorner[];
  /** Corners that were taken back, the next to be put back last. */
  readonly taken: readonly (readonly PlacedCorner[])[];
}

/** A feature being drawn corner by corner, with pointer, keys and typed figures. It changes by its methods alone. */
export type Drafting = Readonly<DraftingStore>;

export class DraftingStore {
  readonly #session: Session;
  readonly #port: DraftingPort;
  #begun = $state.raw<Begun | null>(null);
  way = $state<Way>('free');
  isSquare = $state(false);
  isOther = $state(false);
  typed = $state.raw<Typed>(nothingTyped);
  #known = $state.raw<readonly LngLat[]>([]);
  #pointer = $state.raw<LngLat | null>(null);
  #reachM = $state(0);
  /** Which service a utility line is; asked for before it exists. */
  service = $state.raw<UtilityService | null>(null);
  /** Whether keys led the place where the next corner goes, not the pointer. */
  isLedByKeys = $state(false);
  /** Why the last thing could not be done, as a sentence. */
  fault = $state.raw<string | null>(null);

  constructor(session: Session, port: DraftingPort) {
    this.#session = session;
    this.#port = port;
  }

  /** The kind that is being drawn corner by corner; null while none is. */
  get kind(): Kind | null {
    const { tool } = this.#session;
    return typeof tool === 'object' && tool.outline === undefined ? tool.draw : null;
  }

  /** Whether the field book is open: a basin may still be placed as a whole until a corner of it is set. */
  get isBookOpen(): boolean {
    return this.kind !== null && (this.kind !== 'basin' || this.corners.length > 0);
  }

  /** The feature that a change is drawn onto; null while a new feature is drawn. */
  get onto(): DrawnOnto | null {
    const { tool } = this.#session;
    return typeof tool === 'object' ? (tool.onto ?? null) : null;
  }

  get shape(): PlanGeometry['type'] {
    const { onto } = this;
    if (onto !== null) return onto.does === 'split' ? 'LineString' : 'Polygon';
    return this.kind === null ? 'Point' : geometryTypeOf(this.kind);
  }

  get #now(): Begun {
    const { tool } = this.#session;
    if (this.#begun?.tool === tool) return this.#begun;
    const corners = typeof tool === 'object' ? (tool.corners ?? []) : [];
    return { tool, corners: corners.map((at) => ({ at, how: 'drawn before' })), taken: [] };
  }

  get corners(): readonly PlacedCorner[] {
    return this.#now.corners;
  }

  /** Whether there are corners to take back, or to put back. */
  get canTakeBack(): boolean {
    return this.kind !== null && this.#now.corners.length > 0;
  }

  get canPutBack(): boolean {
    return this.kind !== null && this.#now.taken.length > 0;
  }

  get known(): readonly LngLat[] {
    return this.#known;
  }

  /** The plan's frame, else one about where drawing begins. */
  readonly frame = $derived.by((): Frame => {
    const begins = this.corners.at(0)?.at ?? this.#pointer ?? [0, 0];
    return this.#port.frame() ?? makeFrame(localFrame(begins));
  });

  /** Corners in metres of the frame. */
  readonly local = $derived.by((): XY[] => {
    const { toLocal } = this.frame;
    return this.corners.map(({ at }) => toLocal(at));
  });

  /** Typed figures, or the sentence on the first that cannot be read. */
  readonly #figures = $derived.by((): Sighted['typed'] | string => {
    const units = this.#port.units();
    const read = (text: string, parse: (text: string) => number): number | null =>
      text.trim() === '' ? null : parse(text);
    const length = (text: string): number => parseLength(text, units);
    const signed = (text: string): number => parseLength(text, units, { signed: true });
    const isAlong = this.way === 'along';
    try {
      return {
        lengthM: read(this.typed.length, length),
        turnDeg: read(this.typed.turn, parseTurn),
        bearingDeg: read(this.typed.bearing, parseBearing),
        firstM: read(this.typed.first, isAlong ? signed : length),
        secondM: read(this.typed.second, isAlong ? signed : length),
      };
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
  });

  readonly #sighted = $derived.by((): Sighted | string => {
    const frame = this.frame;
    const typed = this.#figures;
    if (typeof typed === 'string') return typed;
    const pointer = this.#pointer;
    const at = pointer === null ? null : frame.toLocal(pointer);
    const by = this.local.at(-1) ?? at ?? [0, 0];
    return {
      corners: this.local,
      pointer: at,
      reachM: this.#reachM,
      lines: this.#port.lines(),
      way: this.way,
      isSquare: this.isSquare,
      typed,
      northDeg: northAt(frame, by),
      known: this.#known.map((place) => frame.toLocal(place)),
      isOther: this.isOther,
      units: this.#port.units(),
    };
  });

  /** Where the next corner would be set; a sentence where typed figures give none; null where nothing tells. */
  readonly next = $derived.by((): NextCorner | string | null => {
    if (this.kind === null) return null;
    const sighted = this.#sighted;
    return typeof sighted === 'string' ? sighted : nextCorner(sighted);
  });

  /** Where true north lies at the last corner, degrees clockwise from the frame's. */
  readonly northDeg = $derived(northAt(this.frame, this.local.at(-1) ?? [0, 0]));

  /** All corners with the next one, metres. */
  readonly withNext = $derived.by((): XY[] => {
    const { next } = this;
    return next === null || typeof next === 'string'
      ? this.local
      : [...this.local, next.at, ...next.also];
  });

  /** Flags on the tape that lies along the side being drawn, up to a length. */
  flags(upToM: number): Flag[] {
    const { next, local } = this;
    if (next === null || typeof next === 'string' || local.length === 0) return [];
    return flagsAlong(local, next.at, this.#port.lines(), upToM);
  }

  /** How the outline would close by right angles. */
  readonly square = $derived.by((): ClosedSquare | null => {
    return this.shape === 'Polygon' ? closedSquare(this.local) : null;
  });

  /** The pointer is over a place; null when it has left the map. */
  point(place: LngLat | null, reachM: number): void {
    this.#pointer = place;
    this.#reachM = reachM;
    if (place !== null) this.isLedByKeys = false;
  }

  /** Keys lead the place where the next corner goes, metres east and north. */
  nudge(eastM: number, northM: number, middle: LngLat): void {
    const frame = this.frame;
    const { next } = this;
    const from =
      next === null || typeof next === 'string'
        ? frame.toLocal(this.corners.at(-1)?.at ?? this.#pointer ?? middle)
        : next.at;
    this.#pointer = frame.toLngLat([from[0] + eastM, from[1] + northM]);
    // Fine steps are not to be held fast by what lies near.
    this.#reachM = keyReachM;
    this.isLedByKeys = true;
  }

  /** The map was pressed: chooses what is known, sets a corner, or ends at the first or last one. */
  press(place: LngLat, reachM: number): void {
    if (this.kind === null) return;
    this.point(place, reachM);
    const frame = this.frame;
    const isMeasured = this.way === 'tapes' || this.way === 'along';
    if (isMeasured && this.#known.length < 2) {
      const sighted = this.#sighted;
      if (typeof sighted === 'string') return;
      const known = knownAt(sighted, frame.toLocal(place));
      this.#known = known.map((at) => frame.toLngLat(at));
      return;
    }
    if (this.way === 'tapes') this.#chooseNearer(frame.toLocal(place));
    if (!isMeasured && this.#endsAt(frame.toLocal(place), reachM)) this.finish();
    else this.set();
  }

  /** Of two crossings, the one nearer to a place. */
  #chooseNearer(place: XY): void {
    const { next } = this;
    if (next === null || typeof next === 'string' || next.other === null) return;
    const [here, there] = [next.at, next.other].map((at) =>
      Math.hypot(at[0] - place[0], at[1] - place[1]),
    );
    if (there < here) this.isOther = !this.isOther;
  }

  /** Whether a press there ends the drawing: at the first corner of an outline, or at the last one. */
  #endsAt(place: XY, reachM: number): boolean {
    const { local } = this;
    const near = (at: XY | undefined): boolean =>
      at !== undefined && Math.hypot(at[0] - place[0], at[1] - place[1]) <= reachM;
    if (this.typed.length !== '' || !this.canFinish) return false;
    return (this.shape === 'Polygon' && near(local[0])) || near(local.at(-1));
  }

  get canFinish(): boolean {
    const least = { Point: 1, LineString: 2, Polygon: 3 }[this.shape];
    return this.kind !== null && this.corners.length >= least;
  }

  /** Sets the next corner where it would go. */
  set(): void {
    const { next } = this;
    if (next === null) return;
    if (typeof next === 'string') {
      this.fault = next;
      return;
    }
    const { toLngLat } = this.frame;
    const put = [next.at, ...next.also].map((at) => ({ at: toLngLat(at), how: next.how }));
    this.#have([...this.corners, ...put], []);
    this.typed = nothingTyped;
    this.isOther = false;
    // The next Enter ends the drawing, unless keys lead on.
    this.isLedByKeys = false;
    if (this.shape === 'Point' || next.also.length > 0) this.finish();
  }

  /** Ends the drawing with the corners it has. */
  finish(): void {
    const { kind, shape, corners } = this;
    if (kind === null || !this.canFinish) return;
    const { onto } = this;
    if (onto !== null) {
      const { tool } = this.#session;
      void this.#port
        .drawnOnto(
          onto,
          corners.map(({ at }) => at),
        )
        .then((fault) => {
          if (this.#session.tool === tool) this.fault = fault;
          if (fault === null) this.#rest();
        });
      return;
    }
    if (kind === 'utility' && this.service === null) {
      this.fault = 'Choose first which service this line is.';
      return;
    }
    const places = corners.map(({ at }) => [...at]);
    const { tool } = this.#session;
    const preset = typeof tool === 'object' ? tool.preset : undefined;
    const given = { ...preset, ...(kind === 'utility' ? { service: this.service } : {}) };
    this.fault = this.#port.drawn(geometryOf(shape, places), kind, given);
    if (this.fault === null) this.#rest();
    // A point that is not taken leaves nothing half drawn.
    else if (shape === 'Point') this.#have([], []);
  }

  /** Ends the drawing by right angles. */
  finishSquare(): void {
    const { square } = this;
    if (square === null) return;
    const { toLngLat } = this.frame;
    const how = 'closed square';
    const kept = this.corners;
    this.#have(
      square.corners.map((at, i) => {
        const same = i < this.local.length && isSame(at, this.local[i]);
        return same ? kept[i] : { at: toLngLat(at), how };
      }),
      [],
    );
    this.finish();
  }

  /** Takes the last corner back. Returns whether there was one. */
  takeBack(): boolean {
    if (!this.canTakeBack) return false;
    const { corners, taken } = this.#now;
    this.#have(corners.slice(0, -1), [...taken, corners]);
    return true;
  }

  /** Puts the corner back that was taken last. Returns whether there was one. */
  putBack(): boolean {
    const { taken } = this.#now;
    const corners = taken.at(-1);
    if (this.kind === null || corners === undefined) return false;
    this.#have(corners, taken.slice(0, -1));
    return true;
  }

  /** Gives a side that is drawn another length; what was drawn after it moves along. */
  setSide(side: number, text: string): void {
    this.#attempt(() => {
      const { toLngLat } = this.frame;
      const lengthM = parseLength(text, this.#port.units());
      const moved = withSideLength(this.local, side, lengthM, 'end', false);
      this.#have(
        this.corners.map((corner, i) =>
          i <= side
            ? corner
            : { at: toLngLat(moved[i]), how: i === side + 1 ? 'typed' : corner.how },
        ),
        [],
      );
    });
  }

  #attempt(change: () => void): void {
    try {
      change();
      this.fault = null;
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      this.fault = error.message;
    }
  }

  type(field: TypedField, text: string): void {
    this.typed = { ...this.typed, [field]: text };
    // A turn and a bearing are two words for one thing: the later one holds.
    if (field === 'turn' && text !== '') this.typed = { ...this.typed, bearing: '' };
    if (field === 'bearing' && text !== '') this.typed = { ...this.typed, turn: '' };
    this.fault = null;
  }

  holdSquare(isHeld: boolean): void {
    this.isSquare = isHeld;
  }

  /** Measures the next corners another way; asked for the same again, by eye as before. */
  measureBy(way: Way): void {
    this.way = this.way === way ? 'free' : way;
    this.#known = [];
    this.isOther = false;
    this.typed = nothingTyped;
    this.fault = null;
  }

  /** Chooses a known place of a list, for those who have no pointer. */
  know(place: LngLat): void {
    this.#known = [...this.#known, place].slice(-2);
  }

  turnOver(): void {
    this.isOther = !this.isOther;
  }

  /** Goes one step back out: what is typed, then the way of measuring, then the drawing itself, which is laid aside. */
  stepOut(): void {
    if (Object.values(this.typed).some((text) => text !== '')) this.typed = nothingTyped;
    else if (this.way !== 'free') this.measureBy(this.way);
    else this.layAside();
  }

  layAside(): void {
    this.#rest();
    this.#session.take('edit');
  }

  /** What belongs to one side only is gone; squares stay held. */
  #rest(): void {
    this.way = 'free';
    this.#known = [];
    this.typed = nothingTyped;
    this.isOther = false;
    this.fault = null;
    this.service = null;
    this.#pointer = null;
    this.isLedByKeys = false;
  }

  serve(service: UtilityService): void {
    this.service = service;
    this.fault = null;
  }

  #have(corners: readonly PlacedCorner[], taken: Begun['taken']): void {
    this.#begun = { tool: this.#session.tool, corners, taken };
    this.fault = null;
    this.#session.begin(corners.map(({ at }) => at));
  }
}

function northAt(frame: Frame, at: XY): number {
  return directionOf([0, 0], bearingVector(frame, at, 0));
}

/** How near keys must lead a corner to be caught, metres: less than their finest step. */
const keyReachM = 0.05;

function geometryOf(shape: PlanGeometry['type'], places: number[][]): PlanGeometry {
  switch (shape) {
    case 'Point':
      return { type: 'Point', coordinates: places[0] };
    case 'LineString':
      return { type: 'LineString', coordinates: places };
    case 'Polygon':
      return { type: 'Polygon', coordinates: [[...places, places[0]]] };
  }
}

function isSame(a: XY, b: XY): boolean {
  return Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-9;
}

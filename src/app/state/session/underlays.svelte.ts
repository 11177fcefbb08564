import {
  makeFrame,
  type Frame,
  type FrameSpec,
  type LngLat,
  type XY,
} from '../../../../lib/frame/frame';
import {
  fewestPoints,
  layPicture,
  pixelAt,
  placeOf,
  type LaidPicture,
  type PictureForm,
} from '../../../../lib/frame/lay-picture';
import { InputError } from '../../../../lib/errors';
import type { Corners, RasterImage, SheetImage } from '../../worker/sheet-image';
import type { UnpackedPicture } from './unpack-picture';

/** A point of a picture whose place is known. */
export interface LaidPoint {
  readonly pixel: XY;
  readonly at: LngLat;
}

/** How a picture was laid by its points. */
export interface Laying {
  readonly points: readonly LaidPoint[];
  readonly form: PictureForm;
  /** By how much each point misses its place, metres; empty while there are too few. */
  readonly missesM: readonly number[];
  /** Root of their mean square; null where no point is left to check by. */
  readonly rmsM: number | null;
}

/** What lies under the drawing: a photograph, the relief of what stands on the ground, or a picture of a plan. */
export interface Underlay {
  readonly id: number;
  readonly kind: 'photo' | 'surface' | 'site-plan';
  readonly name: string;
  readonly image: RasterImage;
  readonly corners: Corners;
  readonly opacity: number;
  readonly isShown: boolean;
  /** Null for what comes with its place. */
  readonly laying: Laying | null;
}

const usualOpacity: Readonly<Record<Underlay['kind'], number>> = {
  photo: 0.9,
  surface: 0.75,
  'site-plan': 0.6,
};

/** So far beyond its edge a press still is on the picture, pixels of it. */
const edgePx = 2;

/** The picture whose points are being set: the point that was taken up, once it is. */
interface InHand {
  readonly id: number;
  readonly laid: LaidPicture;
  readonly frame: Frame;
  readonly pixel: XY | null;
}

/** What lies under the drawing, from the lowest up. It stays on the page until it is taken away, and is no part of the plan. */
export class Underlays {
  #list = $state.raw<readonly Underlay[]>([]);
  #inHand = $state.raw<InHand | null>(null);
  #reliefOpacity = $state(0.75);
  readonly #frames = new Map<number, { readonly laid: LaidPicture; readonly frame: Frame }>();
  #lastId = 0;

  get list(): readonly Underlay[] {
    return this.#list;
  }

  /** How strongly the relief of the elevation is drawn. */
  get reliefOpacity(): number {
    return this.#reliefOpacity;
  }

  setRelief(opacity: number): void {
    this.#reliefOpacity = opacity;
  }

  /** The picture whose points are being set. */
  get laying(): Underlay | null {
    return this.#list.find(({ id }) => id === this.#inHand?.id) ?? null;
  }

  /** Where the point lies that was taken up of it; null while none is. */
  get takenUp(): LngLat | null {
    const hand = this.#inHand;
    if (hand === null || hand.pixel === null) return null;
    return hand.frame.toLngLat(placeOf(hand.laid, hand.pixel));
  }

  /** Lays something that comes with its place. */
  put(kind: 'photo' | 'surface', name: string, { image, corners }: SheetImage): void {
    this.#add({ kind, name, image, corners, laying: null });
  }

  /** Lays a picture across a place, to be moved to where it belongs by its points. @param acrossM - width of its longer side. */
  begin(
    name: string,
    picture: UnpackedPicture,
    at: LngLat,
    acrossM: number,
    spec: FrameSpec,
  ): void {
    const { image } = picture;
    const frame = makeFrame(spec);
    const [x, y] = frame.toLocal(at);
    const perPx = acrossM / Math.max(image.width, image.height);
    const laid: LaidPicture = {
      east: x - (image.width / 2) * perPx,
      north: y + (image.height / 2) * perPx,
      eastByColumn: perPx,
      eastByRow: 0,
      northByColumn: 0,
      northByRow: -perPx,
    };
    const laying: Laying = { points: [], form: 'square', missesM: [], rmsM: null };
    const id = this.#add({
      kind: 'site-plan',
      name,
      image,
      corners: cornersOf(image, laid, frame),
      laying,
    });
    this.#frames.set(id, { laid, frame });
    this.takeUp(id);
  }

  /** Takes a picture in hand, so that points of it can be set. */
  takeUp(id: number): void {
    const kept = this.#frames.get(id);
    if (kept !== undefined) this.#inHand = { id, ...kept, pixel: null };
  }

  /** Puts it down; it stays as it lies. */
  putDown(): void {
    this.#inHand = null;
  }

  /**
   * A press on the map: takes a point of the picture up, or says where the one taken up belongs.
   *
   * @param caught - the corner or edge of the plan near it, else the place itself.
   * @returns a sentence where nothing could be done.
   */
  press(place: LngLat, caught: LngLat): string | null {
    const hand = this.#inHand;
    const underlay = this.laying;
    if (hand === null || underlay?.laying === null || underlay === null) return null;
    const { image, laying } = underlay;
    if (hand.pixel === null) {
      const pixel = pixelAt(hand.laid, hand.frame.toLocal(place));
      const [width, height] = [image.width + edgePx, image.height + edgePx];
      const isOn = pixel.every((px, i) => px >= -edgePx && px <= (i === 0 ? width : height));
      if (!isOn) return 'Press a point of the picture first, then the place where it belongs.';
      this.#inHand = { ...hand, pixel };
      return null;
    }
    const points = [...laying.points, { pixel: hand.pixel, at: caught }];
    return this.#lay(underlay, { ...laying, points });
  }

  /** Lets go of the point that was taken up, or takes the last one that was set away. */
  back(): void {
    const [hand, underlay] = [this.#inHand, this.laying];
    if (hand === null || underlay?.laying === null || underlay === null) return;
    if (hand.pixel !== null) this.#inHand = { ...hand, pixel: null };
    else this.#lay(underlay, { ...underlay.laying, points: underlay.laying.points.slice(0, -1) });
  }

  /** Lets it be drawn out of square, or not. @returns a sentence where its points do not allow that. */
  shape(form: PictureForm): string | null {
    const underlay = this.laying;
    if (underlay?.laying === null || underlay === null) return null;
    return this.#lay(underlay, { ...underlay.laying, form });
  }

  change(id: number, to: Partial<Pick<Underlay, 'opacity' | 'isShown'>>): void {
    this.#list = this.#list.map((each) => (each.id === id ? { ...each, ...to } : each));
  }

  remove(id: number): void {
    this.#list = this.#list.filter((each) => each.id !== id);
    this.#frames.delete(id);
    if (this.#inHand?.id === id) this.#inHand = null;
  }

  #add(underlay: Omit<Underlay, 'id' | 'opacity' | 'isShown'>): number {
    const id = ++this.#lastId;
    const opacity = usualOpacity[underlay.kind];
    this.#list = [...this.#list, { ...underlay, id, opacity, isShown: true }];
    return id;
  }

  /** Lays a picture by the points it has: one moves it, more lay it by least squares. */
  #lay(underlay: Underlay, { points, form }: Laying): string | null {
    const kept = this.#frames.get(underlay.id);
    if (kept === undefined) return null;
    const { frame } = kept;
    const control = points.map(({ pixel, at }) => ({ pixel, at: frame.toLocal(at) }));
    const asked = points.length >= fewestPoints[form] ? form : 'square';
    try {
      const fit = points.length < fewestPoints.square ? null : layPicture(control, asked);
      const laid = fit?.laid ?? movedTo(kept.laid, control);
      this.#frames.set(underlay.id, { laid, frame });
      if (this.#inHand?.id === underlay.id) this.#inHand = { ...this.#inHand, laid, pixel: null };
      const laying: Laying = {
        points,
        form: asked,
        missesM: fit?.missesM ?? [],
        rmsM: fit?.rmsM ?? null,
      };
      const corners = cornersOf(underlay.image, laid, frame);
      this.#list = this.#list.map((each) =>
        each.id === underlay.id ? { ...each, corners, laying } : each,
      );
      return null;
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
  }
}

/** A picture moved so that its one point lies where it belongs. */
function movedTo(laid: LaidPicture, points: readonly { pixel: XY; at: XY }[]): LaidPicture {
  const [point] = points;
  if (points.length === 0) return laid;
  const [x, y] = placeOf(laid, point.pixel);
  return { ...laid, east: laid.east + point.at[0] - x, north: laid.north + point.at[1] - y };
}

function cornersOf({ width, height }: RasterImage, laid: LaidPicture, frame: Frame): Corners {
  const corner = (column: number, row: number): LngLat =>
    frame.toLngLat(placeOf(laid, [column, row]));
  return [corner(0, 0), corner(width, 0), corner(width, height), corner(0, height)];
}

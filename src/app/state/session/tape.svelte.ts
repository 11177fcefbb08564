import type { LngLat } from '../../../../lib/frame/frame';

/** The tape as it lies on the sheet, and what is read along it. It measures, and changes nothing. */
export class Tape {
  #points = $state.raw<readonly LngLat[]>([]);
  #isClosed = $state(false);
  /** Whether heights along it are drawn. */
  #hasProfile = $state(false);
  /** Where the heights are read, metres along it; null while they are not. */
  #readAtM = $state<number | null>(null);
  /** Where the pointer is on the map while the tape is in hand. */
  #pointer = $state.raw<LngLat | null>(null);

  get points(): readonly LngLat[] {
    return this.#points;
  }

  get isClosed(): boolean {
    return this.#isClosed;
  }

  get hasProfile(): boolean {
    return this.#hasProfile;
  }

  get readAtM(): number | null {
    return this.#readAtM;
  }

  get pointer(): LngLat | null {
    return this.#pointer;
  }

  /** The line along which heights are read. */
  get line(): readonly LngLat[] {
    return this.#isClosed ? [...this.#points, this.#points[0]] : this.#points;
  }

  /** Leads it on to a point; one that has been closed begins anew there. */
  add(point: LngLat): void {
    const last = this.#points.at(-1);
    const isThere = !this.#isClosed && last?.[0] === point[0] && last[1] === point[1];
    if (isThere) return;
    this.#points = this.#isClosed ? [point] : [...this.#points, point];
    this.#isClosed = false;
    this.#readAtM = null;
  }

  /** Takes the last point back, or the leg that closes it. */
  back(): void {
    if (this.#isClosed) this.#isClosed = false;
    else this.#points = this.#points.slice(0, -1);
    this.#readAtM = null;
  }

  /** Leads it back to the first point; it takes three to enclose anything. */
  close(): void {
    if (this.#points.length > 2) this.#isClosed = true;
  }

  /** Lays it along something drawn. */
  lay(points: readonly LngLat[], isClosed: boolean): void {
    this.#points = points;
    this.#isClosed = isClosed && points.length > 2;
    this.#readAtM = null;
  }

  clear(): void {
    this.lay([], false);
  }

  showProfile(isShown: boolean): void {
    this.#hasProfile = isShown;
  }

  readAt(alongM: number | null): void {
    this.#readAtM = alongM;
  }

  pointAt(place: LngLat | null): void {
    this.#pointer = place;
  }
}

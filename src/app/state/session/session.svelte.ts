import type { LngLat } from '../../../../lib/frame/frame';
import type { HalfDrawn } from './kept-work';
import type { OpenedRecord } from '../../worker/design-picture';
import type { Backdrop } from './backdrop';
import type { Kind } from '../../../../lib/plan/schema';
import type { LngLatBox } from '../../../../lib/plan/plan-area';
import { Tape } from './tape.svelte';
import type { Target } from './target';
import type { Theme } from '../../look/ink';
import type { PulledHeight } from './pulled-height';
import type { PlacedOutline, Tool } from './tool';
import { Underlays } from './underlays.svelte';

/** The five questions of the job, in the order in which they are asked. */
export type Question = 'here' | 'water' | 'place' | 'dig' | 'handover';

/** Layers that a user may take off the sheet. */
export interface Shown {
  contours: boolean;
  flow: boolean;
  lowSpots: boolean;
  /** Also low spots and water that may be no more than the error of the heights. */
  faint: boolean;
  standing: boolean;
  /** In place of the standing water: how likely it stands. */
  probability: boolean;
  /** In place of the standing water: how likely each cell's water reaches a basin. */
  toBasin: boolean;
  exchange: boolean;
  keepClear: boolean;
  digging: boolean;
  margins: boolean;
  sites: boolean;
}

/** What the user is looking at and doing; not saved with the plan, not undone. It changes by its methods alone. */
export type Session = Readonly<SessionStore>;

export class SessionStore {
  question = $state<Question>('water');
  tool = $state.raw<Tool>('edit');
  selectedId = $state<string | null>(null);
  /** What is chosen beside the selected feature. */
  #also = $state.raw<readonly string[]>([]);
  /** Whether each press chooses one more: for hands without a Shift key. */
  choosingMore = $state(false);
  /** Kinds that are taken off the sheet, and that are kept from being changed. */
  hidden = $state.raw<ReadonlySet<Kind>>(new Set());
  locked = $state.raw<ReadonlySet<Kind>>(new Set());
  /** Whether sides of what is selected carry their lengths on the sheet. */
  sidesShown = $state(false);
  hovered = $state.raw<Target | null>(null);
  picked = $state.raw<Target | null>(null);
  probeAt = $state.raw<LngLat | null>(null);
  readonly tape = new Tape();
  readonly underlays = new Underlays();
  /** Corners that are placed of the feature that is being drawn. */
  #begun = $state.raw<{ readonly tool: Tool; readonly corners: readonly LngLat[] } | null>(null);
  /** What was begun and laid aside, to be taken up again, the latest last. */
  aside = $state.raw<readonly HalfDrawn[]>([]);
  /** Ground that the map is asked to show; a new object asks again. */
  lookAt = $state.raw<LngLatBox | null>(null);
  /** A long record of rain that the basins are asked to take. */
  record = $state.raw<OpenedRecord | null>(null);
  theme = $state<Theme>('paper');
  #isTurned = false;
  backdrop = $state.raw<Backdrop | null>(null);
  tilesOpacity = $state(0.9);
  /** Held part by part, so that what follows one layer does not follow the others. */
  #shown = $state<Shown>({
    contours: true,
    flow: true,
    lowSpots: true,
    faint: false,
    standing: true,
    probability: false,
    toBasin: false,
    exchange: true,
    keepClear: true,
    digging: true,
    margins: true,
    sites: true,
  });
  /** Whether the locate request is open: the ground that it speaks of is then on the sheet. */
  locating = $state(false);
  /** Whether the sheet shows the basins that share the water in place of single places. */
  jointShown = $state(true);
  /** Whether the sheet shows the plan as it stands today, in place of what it will be. */
  today = $state(false);
  /** The proposal of what would dry a wall that is looked at, by its id. */
  proposalId = $state<string | null>(null);
  /** Whether the sheet shows the water with that proposal, in place of the water without it. */
  withProposal = $state(false);
  /** How far a phone's sheet of questions is pulled up over the map. */
  pulled = $state<PulledHeight>('low');
  /** Of the window's height, while a finger drags that sheet. */
  dragged = $state<number | null>(null);
  /** The last thing that could not be done, as one sentence. */
  complaint = $state<string | null>(null);
  /** What was noticed while something was done all the same. */
  notice = $state<string | null>(null);

  get shown(): Readonly<Shown> {
    return this.#shown;
  }

  /** Lets go of what is selected and asked about: another plan is on the sheet. */
  deselect(): void {
    this.select(null);
    this.picked = null;
    this.probeAt = null;
    this.today = false;
    this.lookAtProposal(null);
    this.aside = [];
    this.drawn();
  }

  /** What was being drawn is in the plan now, or of no use any more. */
  drawn(): void {
    if (typeof this.tool === 'object') this.tool = 'edit';
  }

  /** Takes up again what was laid aside. What is being drawn is laid aside instead. */
  takeUp(drawing: HalfDrawn): void {
    this.#layAside();
    this.forgetAside(drawing);
    this.goOnDrawing(drawing);
  }

  forgetAside(drawing: HalfDrawn): void {
    this.aside = this.aside.filter((other) => other !== drawing);
  }

  /** Goes on from what was kept: half drawn, and laid aside. */
  goOnFrom(drawing: HalfDrawn | null, aside: readonly HalfDrawn[]): void {
    this.aside = aside;
    if (drawing !== null) this.goOnDrawing(drawing);
  }

  #layAside(): void {
    const { halfDrawn } = this;
    if (halfDrawn !== null) this.aside = [...this.aside, halfDrawn];
  }

  /** The feature that is being drawn, as far as it has corners or a place. */
  get halfDrawn(): HalfDrawn | null {
    const { tool } = this;
    if (typeof tool !== 'object') return null;
    const { draw: kind, outline = null, onto, preset } = tool;
    if (outline !== null) return outline.centre === null ? null : { kind, corners: [], outline };
    const corners = this.#begun?.tool === tool ? this.#begun.corners : (tool.corners ?? []);
    if (corners.length === 0) return null;
    return {
      kind,
      corners,
      outline,
      ...(onto === undefined ? {} : { onto }),
      ...(preset === undefined ? {} : { preset }),
    };
  }

  /** So many corners are placed of the feature that is being drawn. */
  begin(corners: readonly LngLat[]): void {
    const { tool } = this;
    const isSame = this.#begun?.tool === tool && isSameLine(this.#begun.corners, corners);
    if (!isSame) this.#begun = { tool, corners };
  }

  /** Takes a feature up again that was half drawn. */
  goOnDrawing({ kind, corners, outline, onto, preset }: HalfDrawn): void {
    if (outline !== null) this.tool = { draw: kind, outline };
    else {
      this.tool = {
        draw: kind,
        corners,
        ...(onto === undefined ? {} : { onto }),
        ...(preset === undefined ? {} : { preset }),
      };
    }
    this.question = 'here';
  }

  open(question: Question): void {
    this.question = question;
  }

  /** Takes a tool up. What was half drawn with another is laid aside. */
  take(tool: Tool): void {
    if (!isSameDrawing(this.tool, tool)) this.#layAside();
    this.tool = tool;
  }

  /** Takes a tool up, or puts it down for another where it is in hand. */
  toggle(tool: Tool, other: Tool): void {
    this.take(this.tool === tool ? other : tool);
  }

  /** The outline that is drawn as a whole is another now. */
  place(outline: PlacedOutline): void {
    if (typeof this.tool === 'object') this.tool = { ...this.tool, outline };
  }

  select(id: string | null): void {
    this.selectedId = id;
    this.#also = [];
  }

  /** All that is chosen, the selected feature first. */
  get chosen(): readonly string[] {
    return this.selectedId === null ? [] : [this.selectedId, ...this.#also];
  }

  /** Chooses features, the first of them as the selected one. */
  choose(ids: readonly string[]): void {
    const [first = null, ...others] = new Set(ids);
    this.selectedId = first;
    this.#also = others;
  }

  /** Chooses one more, or lets it go again. */
  chooseMore(id: string): void {
    const { chosen } = this;
    this.choose(chosen.includes(id) ? chosen.filter((other) => other !== id) : [...chosen, id]);
  }

  chooseSeveral(isOn: boolean): void {
    this.choosingMore = isOn;
  }

  hide(kind: Kind, isHidden: boolean): void {
    this.hidden = withKind(this.hidden, kind, isHidden);
  }

  lock(kind: Kind, isLocked: boolean): void {
    this.locked = withKind(this.locked, kind, isLocked);
  }

  showSides(isShown: boolean): void {
    this.sidesShown = isShown;
  }

  /** Points at something, on the map or from beside it. */
  pointAt(target: Target | null): void {
    this.hovered = target;
  }

  pick(target: Target | null): void {
    this.picked = target;
  }

  /** Asks about a place on the ground. */
  probe(place: LngLat): void {
    this.probeAt = place;
  }

  /** Shows some ground; null where there is none to show. */
  look(at: LngLatBox | null): void {
    this.lookAt = at;
  }

  withRecord(record: OpenedRecord | null): void {
    this.record = record;
  }

  /** The paper that the user's system asks for: taken until the user has turned it. */
  followPaper(theme: Theme): void {
    if (!this.#isTurned) this.theme = theme;
  }

  /** The paper that comes after this one. */
  nextPaper(withSun: boolean): Theme {
    if (this.theme === 'paper') return withSun ? 'sun' : 'dark';
    return this.theme === 'sun' ? 'dark' : 'paper';
  }

  /** @param withSun - whether the paper for sunlight is one of them: outdoors, on a phone. */
  turnPaper(withSun = false): void {
    this.#isTurned = true;
    this.theme = this.nextPaper(withSun);
  }

  setBackdrop(backdrop: Backdrop | null): void {
    this.backdrop = backdrop;
  }

  setTiles(opacity: number): void {
    this.tilesOpacity = opacity;
  }

  show(layers: Partial<Shown>): void {
    Object.assign(this.#shown, layers);
  }

  showToday(isShown: boolean): void {
    this.today = isShown;
  }

  lookAtProposal(id: string | null): void {
    this.proposalId = id;
    this.withProposal = false;
  }

  showWithProposal(isShown: boolean): void {
    this.withProposal = isShown;
  }

  locate(isOpen: boolean): void {
    this.locating = isOpen;
  }

  showJoint(isShown: boolean): void {
    this.jointShown = isShown;
  }

  /** Whether the phone's sheet of questions stands over the map. */
  get pulledUp(): boolean {
    return this.pulled !== 'low';
  }

  pullUp(isUp: boolean): void {
    this.pulled = isUp ? 'high' : 'low';
  }

  pullTo(height: PulledHeight): void {
    this.pulled = height;
  }

  /** What has just been drawn can be said more of: its editor comes into view, on a phone too. */
  showDrawn(kind: Kind): void {
    // A basin has a question of its own, which may be open.
    if (kind !== 'basin') this.question = 'here';
    if (this.pulled === 'low') this.pulled = 'middle';
  }

  dragTo(share: number | null): void {
    this.dragged = share;
  }

  /** Something could not be done. */
  complain(sentence: string): void {
    this.complaint = sentence;
  }

  /** Something was noticed. */
  tell(sentence: string): void {
    this.notice = sentence;
  }

  closeComplaint(): void {
    this.complaint = null;
  }

  closeNotice(): void {
    this.notice = null;
  }
}

function withKind(kinds: ReadonlySet<Kind>, kind: Kind, isIn: boolean): ReadonlySet<Kind> {
  const next = new Set(kinds);
  if (isIn) next.add(kind);
  else next.delete(kind);
  return next;
}

/** Whether a tool goes on with what another one draws: an outline is led on, or changed for one drawn by corners. */
function isSameDrawing(before: Tool, after: Tool): boolean {
  if (typeof before !== 'object' || typeof after !== 'object') return false;
  return (
    before.draw === after.draw && (before.outline !== undefined || after.outline !== undefined)
  );
}

function isSameLine(a: readonly LngLat[], b: readonly LngLat[]): boolean {
  return a.length === b.length && a.every(([lng, lat], i) => lng === b[i][0] && lat === b[i][1]);
}

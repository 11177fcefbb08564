import {
  TerraDraw,
  TerraDrawLineStringMode,
  TerraDrawPointMode,
  TerraDrawPolygonMode,
  TerraDrawSelectMode,
  type GeoJSONStoreFeatures,
  type TerraDrawMouseEvent,
} from 'terra-draw';
import { TerraDrawMapLibreGLAdapter } from 'terra-draw-maplibre-gl-adapter';
import type { Map as MapView } from 'maplibre-gl';
import type { LngLat } from '../../../../lib/frame/frame';
import type { Theme } from '../../look/ink';
import { lineInk, pointInk, polygonInk, selectInk } from './gesture-inks';
import type { HandWork } from './hand-work';
import { OnceAFrame } from './pointer-events';
import type { PlanGeometry } from '../../state/plan/plan-geometry';
import { degreeDecimals, roundDegrees, tidyGeometry } from '../../state/plan/tidy-geometry';
import { snap, type SnapLine } from './snap';
import { type ScreenXY } from '../layers/screen-xy';

/** What gestures ask of and tell their owner. */
export interface GesturePort {
  /** What corners may snap to now. */
  snapLines(): readonly SnapLine[];
  toScreen(place: LngLat): ScreenXY;
  /** A gesture has changed the geometry; `null` when it was dropped. At most once a frame. */
  draft(geometry: PlanGeometry | null): void;
  /** A change to the edited feature is complete. */
  edited(geometry: PlanGeometry): void;
}

/** How near a tap must come to take a handle, pixels: a fingertip's half. */
const handlePx = 16;

/**
 * Changing one feature with the pointer. The drawing tool holds only the feature at work; the
 * plan stays with its owner, who hears drafts while the pointer moves and one result when it is let go.
 */
export class Gestures {
  readonly #map: MapView;
  readonly #port: GesturePort;
  readonly #tool: TerraDraw;
  readonly #stop = new AbortController();
  #theme: Theme;
  /** The feature at work has too many corners for full-sized handles. */
  #isDense = false;
  #work: HandWork = { does: 'nothing' };
  readonly #frame = new OnceAFrame();
  /** An inserted corner counts as done only when the pointer is let go: it is often dragged at once. */
  #inserted = false;
  /** The pointer is down. */
  #pressed = false;
  /** The feature has changed since the pointer went down. */
  #touched = false;
  /** The gesture was dropped and the pointer is still down: nothing more comes of it. */
  #dropped = false;
  /** A feature is being put into the tool's hands, which makes changes of its own; the pointer may still be down. */
  #isTaking = false;

  constructor(map: MapView, port: GesturePort, theme: Theme) {
    this.#map = map;
    this.#port = port;
    this.#theme = theme;
    this.#tool = this.#makeTool();
    this.#tool.start();
    this.#tool.on('change', (ids, type) => {
      this.#changed(ids, type);
    });
    this.#tool.on('finish', (_, { action }) => {
      this.#finished(action);
    });
    this.#followPointer();
  }

  #makeTool(): TerraDraw {
    let count = 0;
    return new TerraDraw({
      adapter: new TerraDrawMapLibreGLAdapter({
        map: this.#map,
        coordinatePrecision: degreeDecimals,
        prefixId: 'gesture',
      }),
      idStrategy: {
        isValidId: (id) => typeof id === 'string' && id !== '',
        getId: () => `gesture-${++count}`,
      },
      modes: [
        // What is held has the modes of these, and nothing is drawn by them.
        new TerraDrawPolygonMode({ styles: polygonInk(this.#theme) }),
        new TerraDrawLineStringMode({ styles: lineInk(this.#theme) }),
        new TerraDrawPointMode({ styles: pointInk(this.#theme) }),
        new TerraDrawSelectMode({
          // What is selected is the owner's affair, and so are keys.
          allowManualSelection: false,
          allowManualDeselection: false,
          keyEvents: null,
          pointerDistance: handlePx,
          styles: selectInk(this.#theme, false),
          flags: this.#flags(false),
        }),
      ],
    });
  }

  /** Learns when the pointer goes down and up, which the drawing tool does not tell. */
  #followPointer(): void {
    const { signal } = this.#stop;
    this.#map.getCanvas().addEventListener(
      'pointerdown',
      () => {
        this.#pressed = true;
        this.#touched = false;
        this.#dropped = false;
      },
      { signal },
    );
    window.addEventListener(
      'pointerup',
      () => {
        this.#pressed = false;
        this.#touched = false;
        if (this.#inserted) this.#commit();
        if (!this.#dropped) return;
        this.#dropped = false;
        const work = this.#work;
        if (work.does === 'edit' && canEdit(work.geometry)) this.#take(work.id, work.geometry);
      },
      { signal },
    );
  }

  /** Whether a feature is in the pointer's hand. */
  get busy(): boolean {
    return this.#touched;
  }

  /** Turns to other work; the same work with a changed geometry takes the geometry over. */
  setWork(work: HandWork): void {
    const before = this.#work;
    this.#work = work;
    if (work.does === 'edit' && canEdit(work.geometry)) {
      if (before.does === 'edit' && before.id === work.id && this.#holds(work)) return;
      this.#clear();
      this.#take(work.id, work.geometry);
    } else {
      this.#clear();
    }
  }

  /** Drops the gesture in progress. Returns whether there was one. */
  cancel(): boolean {
    if (!this.busy) return false;
    const work = this.#work;
    this.#clear();
    // With the feature out of its hands the tool has nothing to go on dragging; it comes back on release.
    if (work.does === 'edit') this.#dropped = true;
    this.#port.draft(null);
    return true;
  }

  setTheme(theme: Theme): void {
    this.#theme = theme;
    this.#tool.updateModeOptions<typeof TerraDrawPolygonMode>('polygon', {
      styles: polygonInk(theme),
    });
    this.#tool.updateModeOptions<typeof TerraDrawLineStringMode>('linestring', {
      styles: lineInk(theme),
    });
    this.#tool.updateModeOptions<typeof TerraDrawPointMode>('point', { styles: pointInk(theme) });
    this.#tool.updateModeOptions<typeof TerraDrawSelectMode>('select', {
      styles: selectInk(theme, this.#isDense),
    });
  }

  close(): void {
    this.#stop.abort();
    this.#frame.drop();
    this.#tool.stop();
  }

  /** Where a corner goes instead of the place under the pointer; as the drawing tool asks for it. */
  readonly #toCustom = (event: TerraDrawMouseEvent): [number, number] | undefined => {
    const pointer: ScreenXY = [event.containerX, event.containerY];
    const place = snap(pointer, this.#port.snapLines(), (at) => this.#port.toScreen(at));
    return place === null ? undefined : [roundDegrees(place[0]), roundDegrees(place[1])];
  };

  /** The drawing tool's feature of an id, if it holds one. */
  #held(id: string | number): GeoJSONStoreFeatures | undefined {
    return this.#tool.hasFeature(id) ? this.#tool.getSnapshotFeature(id) : undefined;
  }

  #take(id: string, geometry: PlanGeometry): void {
    const mode = geometry.type === 'LineString' ? 'linestring' : geometry.type.toLowerCase();
    const feature: GeoJSONStoreFeatures = {
      type: 'Feature',
      id,
      geometry: tidyGeometry(geometry),
      properties: { mode },
    };
    const isDense = cornersOf(geometry) > denseFrom;
    if (isDense !== this.#isDense) {
      this.#isDense = isDense;
      this.#tool.updateModeOptions<typeof TerraDrawSelectMode>('select', {
        styles: selectInk(this.#theme, isDense),
        flags: this.#flags(isDense),
      });
    }
    this.#tool.setMode('select');
    this.#isTaking = true;
    const [result] = this.#tool.addFeatures([feature]);
    if (result.valid) this.#tool.selectFeature(id);
    this.#isTaking = false;
  }

  /** What may be done to each type of geometry. Where corners are dense none is put between them. */
  #flags(isDense: boolean) {
    const coordinates = {
      draggable: true,
      ...(isDense ? {} : { midpoints: { draggable: true } }),
      deletable: true,
      snappable: { toCustom: this.#toCustom },
    };
    return {
      polygon: { feature: { draggable: true, coordinates } },
      linestring: { feature: { draggable: true, coordinates } },
      point: { feature: { draggable: true } },
    };
  }

  #holds({ id, geometry }: { id: string; geometry: PlanGeometry }): boolean {
    const held = this.#held(id);
    if (held === undefined) return false;
    return JSON.stringify(held.geometry) === JSON.stringify(tidyGeometry(geometry));
  }

  #clear(): void {
    this.#tool.setMode('static');
    this.#tool.clear();
    // Last, since leaving a mode makes changes of its own.
    this.#frame.drop();
    this.#inserted = false;
    this.#touched = false;
    this.#map.getCanvas().style.removeProperty('cursor');
  }

  #changed(ids: readonly (string | number)[], type: string): void {
    const work = this.#work;
    if (this.#dropped || this.#isTaking) return;
    if (work.does === 'edit' && type === 'update' && ids.includes(work.id) && this.#pressed) {
      this.#touched = true;
      this.#schedule(work.id);
    }
  }

  #schedule(id: string): void {
    this.#frame.ask(() => {
      const held = this.#held(id);
      if (held !== undefined) this.#port.draft(held.geometry);
    });
  }

  #finished(action: string): void {
    if (this.#dropped || this.#work.does !== 'edit') return;
    if (action === 'insertMidpoint') this.#inserted = true;
    else this.#commit();
  }

  #commit(): void {
    this.#inserted = false;
    this.#frame.drop();
    if (this.#work.does !== 'edit') return;
    const held = this.#held(this.#work.id);
    if (held !== undefined) this.#port.edited(tidyGeometry(held.geometry));
  }
}

/** Whether the drawing tool can hold a geometry. Areas with holes it cannot: those have handles of our own. */
function canEdit(geometry: PlanGeometry): boolean {
  return geometry.type !== 'Polygon' || geometry.coordinates.length === 1;
}

/** A feature with more corners than this has small handles on them and none between them. A choice for legibility. */
const denseFrom = 24;

function cornersOf(geometry: PlanGeometry): number {
  switch (geometry.type) {
    case 'Point':
      return 1;
    case 'LineString':
      return geometry.coordinates.length;
    case 'Polygon':
      return geometry.coordinates[0].length - 1;
  }
}

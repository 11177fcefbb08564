import '@fontsource/barlow-semi-condensed/500.css';
import '@fontsource/barlow-semi-condensed/600.css';
import { Map as MapView, setWorkerUrl, type GeoJSONSource, type ImageSource } from 'maplibre-gl';
import 'maplibre-gl/dist/maplibre-gl.css';
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url';
import type { FeatureCollection } from 'geojson';
import type { LngLat } from '../../../../lib/frame/frame';
import { inkOf, type Theme } from '../../look/ink';
import type { Backdrop } from '../../state/session/backdrop';
import type { LngLatBox } from '../../../../lib/plan/plan-area';
import type { RasterImage, SheetImage } from '../../worker/sheet-image';
import type { Target } from '../../state/session/target';
import { tileRatio } from '../images/pattern-tiles';
import { lowSpotOpacity } from './water-layers';
import { watchTiles } from './watch-tiles';
import type { Hit } from './pick';
import { pickableLayers } from './pickable-layers';
import { sheetIcons } from '../images/sheet-icons';
import { sheetPatterns } from '../images/sheet-patterns';
import { sheetLayers, sheetStyle, type ImageSourceName, type VectorSource } from './sheet-style';
import type { ScreenXY } from './screen-xy';

/** Room to leave around the lot, pixels. */
export interface Padding {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
}

setWorkerUrl(workerUrl);

/** An image under the drawing. */
export interface LaidUnder extends SheetImage {
  readonly id: number;
  readonly opacity: number;
  readonly isShown: boolean;
}

type Coordinates = [[number, number], [number, number], [number, number], [number, number]];

/** Where each kind of target lives on the map. */
const targetSources: Readonly<Record<Target['kind'], VectorSource | null>> = {
  feature: 'plan',
  'low-spot': 'low-spots',
  site: 'sites',
  'keep-clear': 'keep-clear',
  margin: null,
  reading: null,
};

const pickReachPx = 5;

/**
 * The map library behind a narrow face: named data in, places and hits out. The one module that knows how
 * sources, images and feature states are handled; it and the library load together, after the page.
 */
export class SheetMap {
  readonly view: MapView;
  #theme: Theme;
  #failing: readonly string[] = [];
  #stopTiles: (() => void) | null = null;
  /** Images laid under the drawing, by the layers that show them. */
  readonly #under = new Map<string, RasterImage>();
  #attention = new Map<string, { selected: boolean; hovered: boolean }>();

  private constructor(view: MapView, theme: Theme) {
    this.view = view;
    this.#theme = theme;
  }

  /** Opens a map in an element and waits until it can take data and draw its labels in their fonts. */
  static async open(
    container: HTMLElement,
    theme: Theme,
    bounds: LngLatBox | null,
    padding: Padding,
    signal: AbortSignal,
  ): Promise<SheetMap | null> {
    const view = new MapView({
      container,
      style: sheetStyle(inkOf(theme)),
      ...(bounds === null
        ? { center: [0, 0], zoom: 16 }
        : { bounds: [...bounds], fitBoundsOptions: { padding: { ...padding } } }),
      attributionControl: false,
      localIdeographFontFamily: false,
      maplibreLogo: false,
      maxPitch: 0,
      pitchWithRotate: false,
      touchPitch: false,
      renderWorldCopies: false,
      refreshExpiredTiles: false,
      // Beyond this a screen pixel is under a millimetre and no coordinate is that good.
      maxZoom: 25,
      // Labels that fade in keep the sheet redrawing for nothing.
      fadeDuration: 0,
      locale: { 'Map.Title': 'Drawing of the lot' },
    });
    signal.addEventListener('abort', () => {
      view.remove();
    });
    const fonts = ['500', '600'].map((weight) =>
      document.fonts.load(`${weight} 24px "Barlow Semi Condensed"`),
    );
    await Promise.all([view.once('style.load'), ...fonts]);
    if (signal.aborted) return null;
    const sheet = new SheetMap(view, theme);
    sheet.#addImages();
    return sheet;
  }

  /** Shows features in place of a source's former ones. */
  show(source: VectorSource, features: FeatureCollection): void {
    void this.#geojson(source).setData(features);
  }

  /** Lays an image on the ground in place of the former one, or takes it away. */
  lay(source: ImageSourceName, laid: SheetImage | null): void {
    this.view.setLayoutProperty(source, 'visibility', laid === null ? 'none' : 'visible');
    if (laid === null) return;
    const { image, corners } = laid;
    const [nw, ne, se, sw] = corners;
    this.view.getSource<ImageSource>(source)?.updateImage({
      image: new ImageData(image.data, image.width, image.height),
      coordinates: [
        [nw[0], nw[1]],
        [ne[0], ne[1]],
        [se[0], se[1]],
        [sw[0], sw[1]],
      ],
    });
  }

  /** Lays images under the drawing, over the relief, the first one lowest; what is not among them any more goes. */
  layUnder(laid: readonly LaidUnder[]): void {
    const wanted = new Set(laid.map(({ id }) => `under-${id}`));
    for (const id of this.#under.keys()) {
      if (wanted.has(id)) continue;
      this.view.removeLayer(id);
      this.view.removeSource(id);
      this.#under.delete(id);
    }
    for (const { id: number, image, corners, opacity, isShown } of laid) {
      const id = `under-${number}`;
      const coordinates = corners.map(([lng, lat]) => [lng, lat]) as Coordinates;
      if (!this.#under.has(id)) {
        this.view.addSource(id, { type: 'image', coordinates });
        this.view.addLayer(
          { id, type: 'raster', source: id, paint: { 'raster-fade-duration': 0 } },
          'data-edge',
        );
      }
      const source = this.view.getSource<ImageSource>(id);
      if (this.#under.get(id) !== image) {
        const pixels = new ImageData(image.data, image.width, image.height);
        source?.updateImage({ image: pixels, coordinates });
        this.#under.set(id, image);
      } else source?.setCoordinates(coordinates);
      this.view.setPaintProperty(id, 'raster-opacity', opacity);
      this.view.setLayoutProperty(id, 'visibility', isShown ? 'visible' : 'none');
    }
  }

  /** How strongly the relief is drawn. */
  setRelief(opacity: number): void {
    this.view.setPaintProperty('relief', 'raster-opacity', opacity);
  }

  /** Holds the outlines of low spots back where water already shows them. */
  quietLowSpots(quiet: boolean): void {
    this.view.setPaintProperty('low-spots', 'line-opacity', lowSpotOpacity(quiet));
  }

  /** Draws everything in the inks of another paper. */
  setTheme(theme: Theme): void {
    if (theme === this.#theme) return;
    this.#theme = theme;
    const ink = inkOf(theme);
    for (const layer of sheetLayers(ink)) {
      for (const [property, value] of Object.entries(layer.paint ?? {})) {
        this.view.setPaintProperty(layer.id, property as never, value as never);
      }
    }
    this.#addImages();
  }

  /** Marks what is selected and what is pointed at, and nothing else. */
  setAttention(selected: readonly Target[], hovered: Target | null): void {
    const wanted = new Map<string, { selected: boolean; hovered: boolean }>();
    for (const target of [...selected, hovered]) {
      const source = target === null ? null : targetSources[target.kind];
      if (target === null || source === null) continue;
      const key = `${source}/${target.id}`;
      const mark = wanted.get(key) ?? { selected: false, hovered: false };
      if (target !== null && selected.includes(target)) mark.selected = true;
      if (target === hovered) mark.hovered = true;
      wanted.set(key, mark);
    }
    for (const key of this.#attention.keys()) {
      if (wanted.has(key)) continue;
      for (const mark of ['selected', 'hovered']) this.view.removeFeatureState(place(key), mark);
    }
    for (const [key, mark] of wanted) this.view.setFeatureState(place(key), mark);
    this.#attention = wanted;
  }

  /** Marks the features of the plan that fail a rule, and no others. */
  setFailing(ids: readonly string[]): void {
    for (const id of this.#failing) {
      if (!ids.includes(id)) this.view.removeFeatureState({ source: 'plan', id }, 'failing');
    }
    for (const id of ids) this.view.setFeatureState({ source: 'plan', id }, { failing: true });
    this.#failing = ids;
  }

  /**
   * Puts map tiles under the drawing, or takes them away.
   *
   * @param onNothing - called once where their source is asked for some and gives none.
   */
  setBackdrop(backdrop: Backdrop | null, onNothing: (backdrop: Backdrop) => void): void {
    this.#stopTiles?.();
    this.#stopTiles = null;
    if (this.view.getLayer('backdrop') !== undefined) this.view.removeLayer('backdrop');
    if (this.view.getSource('backdrop') !== undefined) this.view.removeSource('backdrop');
    if (backdrop === null) return;
    this.#stopTiles = watchTiles(this.view, () => {
      onNothing(backdrop);
    });
    this.view.addSource('backdrop', {
      type: 'raster',
      tiles: [backdrop.template],
      tileSize: backdrop.tileSizePx ?? 256,
      maxzoom: backdrop.maxZoom ?? 19,
      attribution: backdrop.attribution,
    });
    this.view.addLayer(
      {
        id: 'backdrop',
        type: 'raster',
        source: 'backdrop',
        paint: { 'raster-saturation': -0.35, 'raster-opacity': 0.9 },
      },
      'relief',
    );
  }

  /** How strongly map tiles are drawn, where there are any. */
  setTiles(opacity: number): void {
    if (this.view.getLayer('backdrop') === undefined) return;
    this.view.setPaintProperty('backdrop', 'raster-opacity', opacity);
  }

  /** Everything that can be picked near a place on the screen. */
  hitsAt([x, y]: ScreenXY): Hit[] {
    const layers = [...pickableLayers, 'sites', 'site-fill', 'low-spot-fill', 'keep-clear'];
    const box: [ScreenXY, ScreenXY] = [
      [x - pickReachPx, y - pickReachPx],
      [x + pickReachPx, y + pickReachPx],
    ];
    return this.view
      .queryRenderedFeatures([[...box[0]], [...box[1]]], { layers })
      .map((feature) => {
        const area: unknown = feature.properties['areaM2'];
        const drawnAsLine = feature.layer.type === 'line';
        return {
          source: feature.source,
          geometryType: drawnAsLine ? 'Line' : feature.geometry.type,
          id: String(feature.properties['id']),
          ...(typeof area === 'number' ? { areaM2: area } : {}),
        };
      });
  }

  toScreen([lng, lat]: LngLat): ScreenXY {
    const { x, y } = this.view.project([lng, lat]);
    return [x, y];
  }

  toPlace([x, y]: ScreenXY): LngLat {
    const { lng, lat } = this.view.unproject([x, y]);
    return [lng, lat];
  }

  /** Ground metres for one pixel in the middle of the sheet. */
  metresPerPx(): number {
    const circumferenceM = 2 * Math.PI * 6378137;
    const { lat } = this.view.getCenter();
    return (circumferenceM * Math.cos((lat * Math.PI) / 180)) / (512 * 2 ** this.view.getZoom());
  }

  fit(bounds: LngLatBox, padding: Padding, animate: boolean): void {
    // The sheet may have changed its size in this very moment; the canvas is costly to make anew.
    const [box, canvas] = [this.view.getContainer(), this.view.getCanvas()];
    const isOther =
      box.clientWidth !== canvas.clientWidth || box.clientHeight !== canvas.clientHeight;
    if (isOther) this.view.resize();
    this.view.fitBounds([...bounds], {
      padding: { ...padding },
      bearing: this.view.getBearing(),
      duration: animate ? 400 : 0,
      maxZoom: 23,
    });
  }

  /** Keeps the view within bounds; `null` lets it go anywhere. */
  lock(bounds: LngLatBox | null): void {
    this.view.setMaxBounds(bounds === null ? null : [...bounds]);
  }

  #geojson(source: VectorSource): GeoJSONSource {
    return this.view.getSource<GeoJSONSource>(source)!;
  }

  #addImages(): void {
    const ink = inkOf(this.#theme);
    for (const [name, image] of [...sheetPatterns(ink), ...sheetIcons(ink)]) {
      if (this.view.hasImage(name)) this.view.updateImage(name, image);
      else this.view.addImage(name, image, { pixelRatio: tileRatio });
    }
  }
}

function place(key: string): { source: string; id: string } {
  const slash = key.indexOf('/');
  return { source: key.slice(0, slash), id: key.slice(slash + 1) };
}

import { describe, expect, it } from 'vitest';
import { basinAsBuilt } from '../../../lib/basin/form/as-built';
import { basinSections, type BasinSections } from '../../../lib/basin/form/section';
import type { Grid } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import type { Settings } from '../../../lib/plan/schema';
import { basinOutline, rimAt } from '../../../lib/siting/sizing/basin-outline';
import type {
  SectionLayout,
  SectionText,
} from '../../../src/app/questions/dig/section/drawn-section';
import {
  sectionLayout,
  type SectionOptions,
} from '../../../src/app/questions/dig/section/section-layout';
import { zonesLayout } from '../../../src/app/questions/dig/section/zones-layout';
import { falling, turnedBox } from '../basin/made-basin';
import { planOf, polygonOf } from '../ground/plane-lot';

const textWidth = (text: string): number => 5.6 * text.length;

function made(
  rim: readonly XY[],
  properties: object = {},
  soil: Settings['soil'] = {},
  ground: Grid = falling(0.04),
) {
  const plan = planOf([polygonOf('b', rim, { kind: 'basin', dig_depth_m: 0.45, ...properties })], {
    soil,
  });
  const built = basinAsBuilt(ground, plan, 'b');
  if ('notDug' in built) throw new Error(built.notDug);
  return built;
}

const box = turnedBox([15, 12], 6, 4);
const sectionsOf = (...given: Parameters<typeof made>): BasinSections =>
  basinSections(made(...given));

function laid(sections: BasinSections, options: Partial<SectionOptions> = {}): SectionLayout {
  return sectionLayout(sections, sections.along, {
    widthPx: 320,
    units: 'metric',
    waterDepthM: null,
    textWidth,
    ...options,
  });
}

/** The numbers of a path, as points. */
function pointsOf(path: string): [number, number][] {
  return [...path.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
}

/** Box that a text takes. */
function boxOf({ text, at: [x, y], anchor }: SectionText) {
  const width = textWidth(text);
  const west = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2;
  return { west, east: west + width, top: y - 9, bottom: y + 1 };
}

describe('a section through a basin', () => {
  it('runs along the length of the outline and across it, from rim to rim', () => {
    const { along, across } = sectionsOf(box);
    expect(along.ends).toEqual(['W', 'E']);
    expect(along.insideM[0][1] - along.insideM[0][0]).toBeCloseTo(6, 3);
    expect(across.insideM[0][1] - across.insideM[0][0]).toBeCloseTo(4, 3);
    const turned = sectionsOf(turnedBox([15, 12], 6, 4, Math.PI / 3));
    expect(turned.along.insideM[0][1] - turned.along.insideM[0][0]).toBeCloseTo(6, 2);
    expect(['SW', 'S']).toContain(turned.along.ends[0]);
  });

  it('has the finished ground, the ground as it was, and the floor', () => {
    const { along, lowestM, sillM, pondingDepthM } = sectionsOf(box, { ponding_depth_m: 0.2 });
    expect(sillM).toBeCloseTo(-0.05, 6);
    expect(lowestM).toBeCloseTo(-0.25, 6);
    expect(pondingDepthM).toBeCloseTo(0.2, 6);
    expect(Math.min(...along.finishedM)).toBeCloseTo(-0.25, 4);
    const fall = along.beforeM[0] - along.beforeM[along.beforeM.length - 1];
    expect(fall / along.stationM[along.stationM.length - 1]).toBeCloseTo(0.04, 3);
    // 0.25 m deep at 3 : 1 from either rim
    expect(along.floorM![1] - along.floorM![0]).toBeCloseTo(6 - 2 * 0.75, 3);
    expect(sectionsOf(turnedBox([15, 12], 5, 1)).across.floorM).toBeNull();
  });

  it('meets a kidney twice where it bends back, and every stretch is told', () => {
    const bent = basinOutline('kidney', 3, 0);
    const { along } = sectionsOf(rimAt(bent, [15, 12], 30));
    for (const [from, to] of along.insideM) expect(to).toBeGreaterThan(from);
    expect(along.insideM.length).toBeGreaterThan(0);
  });
});

describe('a section as drawn', () => {
  it('is to scale: lengths by one figure, heights by that times the stated exaggeration', () => {
    const sections = sectionsOf(box, { ponding_depth_m: 0.2 });
    for (const widthPx of [270, 390, 800]) {
      const layout = laid(sections, { widthPx });
      const { pxPerM, exaggeration } = layout.scale;
      const rim = layout.dimensions.find(({ id }) => id === 'rim')!;
      expect(rim.to[0] - rim.from[0]).toBeCloseTo(6 * pxPerM, 1);
      const finished = pointsOf(layout.finished);
      const lowest = Math.max(
        ...finished.filter(([x]) => x > rim.from[0] && x < rim.to[0]).map(([, y]) => y),
      );
      const rimY = layout.levels.find(({ id }) => id === 'rim')!.leader[0][1];
      expect(lowest - rimY).toBeCloseTo(0.25 * pxPerM * exaggeration, 0);
      expect(layout.scaleBar.label.text).toContain(`heights ${exaggeration} times`);
    }
  });

  it('draws both sections to the same scale', () => {
    const sections = sectionsOf(box);
    const along = laid(sections);
    const across = sectionLayout(sections, sections.across, {
      widthPx: 320,
      units: 'metric',
      waterDepthM: null,
      textWidth,
      scale: along.scale,
    });
    const width = (layout: SectionLayout): number => {
      const { from, to } = layout.dimensions.find(({ id }) => id === 'rim')!;
      return to[0] - from[0];
    };
    expect(width(across) / width(along)).toBeCloseTo(4 / 6, 2);
  });

  it('names heights without one name over another, inside the sheet', () => {
    for (const widthPx of [240, 320, 640]) {
      for (const properties of [
        {},
        { ponding_depth_m: 0.05, freeboard_m: 0.02, dig_depth_m: 0.1 },
      ]) {
        for (const units of ['metric', 'us'] as const) {
          const layout = laid(sectionsOf(box, properties), { widthPx, units, waterDepthM: 0.03 });
          const boxes = layout.levels.map(({ label }) => boxOf(label));
          expect(layout.levels.map(({ id }) => id)).toEqual([
            'rim',
            'sill',
            'water',
            'floor',
            'bottom',
          ]);
          for (const each of boxes) {
            expect(each.east).toBeLessThanOrEqual(widthPx);
            expect(each.top).toBeGreaterThan(0);
            expect(each.bottom).toBeLessThan(layout.heightPx);
          }
          for (let i = 1; i < boxes.length; i++) {
            expect(boxes[i].top).toBeGreaterThanOrEqual(boxes[i - 1].bottom);
          }
        }
      }
    }
  });

  it('leaves out dimensions that would run into the letters', () => {
    const narrow = laid(sectionsOf(turnedBox([15, 12], 5, 1.2)), { widthPx: 260 });
    for (const { id, label } of narrow.dimensions) {
      if (id !== 'ponding' && id !== 'dig') continue;
      for (const { letter } of narrow.layers) {
        if (letter !== null) expect(boxOf(label).east).toBeLessThan(boxOf(letter).west);
      }
    }
    const sections = sectionsOf(turnedBox([15, 12], 5, 1.2));
    const across = sectionLayout(sections, sections.across, {
      widthPx: 260,
      units: 'metric',
      waterDepthM: null,
      textWidth,
      scale: narrow.scale,
    });
    expect(across.dimensions.map(({ id }) => id)).toEqual(['rim']);
    expect(laid(sectionsOf(box), { widthPx: 640 }).dimensions.map(({ id }) => id)).toEqual([
      'rim',
      'floor',
      'ponding',
      'dig',
    ]);
  });

  it('fills water to its level between the sides, and not over the rim', () => {
    const sections = sectionsOf(box, { ponding_depth_m: 0.2 });
    expect(laid(sections).water).toBeNull();
    const half = laid(sections, { waterDepthM: 0.1 });
    const [[x1, y1]] = pointsOf(half.water!.surface);
    const x2 = Number(/H([\d.]+)/.exec(half.water!.surface)![1]);
    // the floor is 4.5 m, and the sides run out 0.3 m either way
    expect((x2 - x1) / half.scale.pxPerM).toBeCloseTo(5.1, 1);
    const named = half.levels.find(({ id }) => id === 'water')!;
    expect(named.leader[0][1]).toBeCloseTo(y1, 0);
    expect(named.label.text).toBe('water −15 cm');
    const flood = laid(sections, { waterDepthM: 3 });
    const rim = flood.levels.find(({ id }) => id === 'rim')!;
    expect(pointsOf(flood.water!.surface)[0][1]).toBeCloseTo(rim.leader[0][1], 0);
  });

  it('draws each layer below the bowl, top down, and marks heaped ground', () => {
    const layout = laid(sectionsOf(box, {}, {}, falling(0.08)), { widthPx: 640 });
    expect(layout.layers.map(({ material }) => material)).toEqual([
      'mulch',
      'planting-mix',
      'coarse-sand',
    ]);
    const [mulch, mix] = layout.layers.map(({ path }) =>
      Math.max(...pointsOf(path).map(([, y]) => y)),
    );
    expect((mix - mulch) / (layout.scale.pxPerM * layout.scale.exaggeration)).toBeCloseTo(0.15, 2);
    expect(layout.layers.map(({ letter }) => letter?.text)).toEqual(['M', 'P', 'S']);
    expect(layout.fill.length).toBeGreaterThan(0);
  });

  it('draws high water and rock where they are near, below the ground as it was', () => {
    const layout = laid(sectionsOf(box, {}, { water_table_m: 1.2, rock_m: 9 }));
    expect(layout.soilLines.map(({ kind }) => kind)).toEqual(['water']);
    const [first] = pointsOf(layout.soilLines[0].path);
    const [ground] = pointsOf(layout.before);
    expect((first[1] - ground[1]) / (layout.scale.pxPerM * layout.scale.exaggeration)).toBeCloseTo(
      1.2,
      2,
    );
    expect(laid(sectionsOf(box)).soilLines).toEqual([]);
  });
});

describe('the plan of planting zones', () => {
  it('keeps shape and scale, inside its width, each zone with its name', () => {
    const { zones, finished } = made(box, { ponding_depth_m: 0.15 });
    for (const widthPx of [240, 400]) {
      const layout = zonesLayout(zones, finished.form.overflowAt, {
        widthPx,
        units: 'metric',
        textWidth,
      });
      const outer = pointsOf(layout.zones[0].path);
      const xs = outer.map(([x]) => x);
      const ys = outer.map(([, y]) => y);
      expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(6 * layout.pxPerM, 0);
      expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(4 * layout.pxPerM, 0);
      layout.zones.forEach(({ zone, leader, text }, i) => {
        expect(text.startsWith(zone)).toBe(true);
        expect(leader[1][0] + 3 + textWidth(text)).toBeLessThanOrEqual(widthPx);
        if (i > 0)
          expect(leader[1][1] - layout.zones[i - 1].leader[1][1]).toBeGreaterThanOrEqual(16);
      });
      // the notch is on the low side, to the east, and its arrow leads out
      expect(layout.notch[1][0]).toBeGreaterThan(layout.notch[0][0]);
    }
  });
});

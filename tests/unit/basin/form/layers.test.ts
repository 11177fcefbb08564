import { describe, expect, it } from 'vitest';
import { layerMaterials } from '../../../../lib/basin/form/layer-materials';
import { layersOf, layerVolumes } from '../../../../lib/basin/form/layers';
import { pondingBySlope } from '../../../../lib/basin/form/ponding-by-slope';
import { cubicYardM3, footM, inchM } from '../../../../lib/units/units';

describe('layers below the floor', () => {
  it('are thirds of 18 in where the plan says nothing, and that is told to be practice', () => {
    const { layers, digDepthM, notes } = layersOf({});
    expect(layers.map(({ material }) => material)).toEqual([
      'coarse-sand',
      'planting-mix',
      'mulch',
    ]);
    for (const { thicknessM } of layers) expect(thicknessM).toBeCloseTo(6 * inchM, 12);
    expect(digDepthM).toBeCloseTo(18 * inchM, 12);
    expect(notes.join()).toMatch(/18 in .*common practice, no source/);
  });

  it('divide the dig depth that the plan gives', () => {
    const { layers } = layersOf({ dig_depth_m: 0.6 });
    expect(layers.map(({ thicknessM }) => thicknessM)).toEqual([0.6 / 3, 0.6 / 3, 0.6 / 3]);
    expect(layersOf({ dig_depth_m: 0 }).layers).toEqual([]);
  });

  it('are those of the plan, bottom up, with its own figures before the usual', () => {
    const { layers, notes, digDepthM } = layersOf({
      dig_depth_m: 0.5,
      layers: [
        { material: 'gravel', thickness_m: 0.2, porosity: 0.42 },
        { material: 'planting-mix', thickness_m: 0.4, conductivity_mm_per_h: 72 },
        { material: 'compost', thickness_m: 0 },
      ],
    });
    expect(layers).toHaveLength(2);
    expect(layers[0]).toMatchObject({ name: 'Gravel', porosity: 0.42, fieldCapacity: 0.02 });
    expect(layers[1].conductivityMPerS).toBeCloseTo(0.00002, 12);
    expect(layers[1].porosity).toBe(layerMaterials['planting-mix'].porosity.value);
    expect(digDepthM).toBeCloseTo(0.6, 12);
    expect(notes.join()).toMatch(/come to 60 cm, the dig depth to 50 cm: the layers count/);
  });

  it('hold no more than their pores, and say so', () => {
    const { layers, notes } = layersOf({
      layers: [{ material: 'topsoil', thickness_m: 0.3, porosity: 0.3, field_capacity: 0.5 }],
    });
    expect(layers[0].fieldCapacity).toBe(0.3);
    expect(notes.join()).toMatch(/field capacity of 0\.5 is more than its pores of 0\.3/);
  });

  it('warn of an underdrain that lies wrong, deep digs and much mulch', () => {
    const notes = layersOf({
      layers: [
        { material: 'planting-mix', thickness_m: 1.2 },
        { material: 'mulch', thickness_m: 0.2 },
      ],
      underdrain: { height_m: 1.3 },
    }).notes.join();
    expect(notes).toMatch(/clogs/);
    expect(notes).toMatch(/above the lowest layer/);
    expect(notes).toMatch(/needs its sides held up/);
    expect(notes).toMatch(/20 cm of mulch/);
    expect(layersOf({ layers: [], underdrain: {} }).notes.join()).toMatch(/no layer for it/);
  });

  it('fill 588 ft3, 21.78 yd3, under 392 ft2 at 18 in (Western Washington), and store in their pores', () => {
    const { layers } = layersOf({
      layers: [{ material: 'planting-mix', thickness_m: 18 * inchM }],
    });
    const [{ volumeM3, storageM3 }] = layerVolumes(layers, 392 * footM ** 2);
    expect(volumeM3 / footM ** 3).toBeCloseTo(588, 6);
    expect(volumeM3 / cubicYardM3).toBeCloseTo(21.78, 2);
    expect(storageM3 / volumeM3).toBeCloseTo(0.45 - 0.14, 12);
  });

  it('have a source for every figure, and none holds more than its pores', () => {
    for (const material of Object.values(layerMaterials)) {
      for (const figure of [
        material.porosity,
        material.fieldCapacity,
        material.conductivityMmPerH,
      ]) {
        expect(figure.value).toBeGreaterThan(0);
        expect(figure.source.title.length).toBeGreaterThan(0);
      }
      expect(material.fieldCapacity.value).toBeLessThan(material.porosity.value);
    }
  });
});

describe('ponding depth by slope', () => {
  it('is held against its row of the table', () => {
    expect(pondingBySlope(4 * inchM, 0.02).result).toBe('pass');
    expect(pondingBySlope(6 * inchM, 0.02)).toMatchObject({
      result: 'check',
      depthClass: 'shallow',
    });
    expect(pondingBySlope(6 * inchM, 0.05)).toMatchObject({ result: 'pass', depthClass: 'middle' });
    expect(pondingBySlope(4 * inchM, 0.1).why).toMatch(/shallower/);
    expect(pondingBySlope(0.3, 0.02).why).toMatch(/pit/);
    expect(pondingBySlope(0.2, 0.13)).toMatchObject({ result: 'fail', advisedM: null });
  });
});

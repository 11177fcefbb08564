import { describe, expect, it } from 'vitest';
import { stormOnGround } from '../../../lib/drainage/storm/storm-on-ground';
import { shapeGround } from '../../../lib/drainage/storm/shaped-ground';
import { ledger } from '../../../lib/drainage/answer/ledger';
import type { Settings } from '../../../lib/plan/schema';
import type { ThawSettings } from '../../../lib/plan/storm-settings';
import { defaultRainMm } from '../../../lib/storm/default-rain';
import { eventDepthMm } from '../../../lib/storm/event-depth';
import { beyondInfiltration, meltDays, thawSeries } from '../../../lib/storm/melt';
import { totalMm } from '../../../lib/storm/rain-series';
import { runOffMm } from '../../../lib/storm/run-off';
import { runOffLaw } from '../../../lib/storm/run-off-law';
import type { SurfaceClass } from '../../../lib/storm/surface-class';
import { waterEvent } from '../../../lib/storm/water-event';
import { box, groundOf, planOf, polygonOf } from '../ground/plane-lot';

const lawn: SurfaceClass = { cover: 'lawn', condition: 'good', group: 'C' };
const roof: SurfaceClass = { cover: 'roof', condition: 'good', group: 'C' };
const paving: SurfaceClass = { cover: 'paving', condition: 'good', group: 'A' };
const settings = (more: Partial<Settings>): Settings => ({ version: 1, ...more });

/** Two days of 5 C on 20 mm of snow water, then rain on what is left. */
const thaw = (more: Partial<ThawSettings> = {}): ThawSettings => ({
  snow_water_mm: 20,
  days: [{ mean_c: 5 }, { mean_c: 5 }, { mean_c: -2, rain_mm: 6 }],
  ground: 'frozen',
  ...more,
});
const thawing = (more: Partial<ThawSettings> = {}): Settings =>
  settings({ event: 'thaw', thaw: thaw(more) });

describe('a storm', () => {
  const storm = settings({
    storm: { rain_mm: 40, pattern: 'nrcs-type-2', duration_h: 24 },
  });

  it('runs off by curve numbers, in all as one equation has it', () => {
    const event = waterEvent(storm);
    expect(event.kind).toBe('storm');
    expect(event.totalMm).toBe(40);
    expect(event.runOff(lawn).totalMm).toBe(runOffMm(40, 74));
    expect(event.runOff(roof).totalMm).toBe(runOffMm(40, 98));
    expect(event.runOff(paving).totalMm).toBe(runOffMm(40, 98));
  });

  it('gives nothing until the initial loss has fallen', () => {
    const event = waterEvent(storm);
    const { series } = event.runOff(lawn);
    const lossMm = 0.2 * 25.4 * (1000 / 74 - 10);
    let fallenMm = 0;
    series.depthsMm.forEach((depth, step) => {
      fallenMm += event.series.depthsMm[step];
      if (fallenMm <= lossMm) expect(depth).toBe(0);
      else expect(depth).toBeGreaterThan(0);
    });
  });

  it('runs off more of wet ground and less of dry, but the same of roofs and paving', () => {
    const on = (antecedent: 'dry' | 'average' | 'wet') =>
      waterEvent(settings({ storm: { rain_mm: 40, antecedent } }));
    expect(on('dry').runOff(lawn).totalMm).toBe(runOffMm(40, 55));
    expect(on('wet').runOff(lawn).totalMm).toBe(runOffMm(40, 88));
    for (const sealed of [roof, paving]) {
      expect(on('dry').runOff(sealed).totalMm).toBe(runOffMm(40, 98));
      expect(on('wet').runOff(sealed).totalMm).toBe(runOffMm(40, 98));
    }
    expect(on('wet').notes.join()).toMatch(/wet before the storm.*table 10-1/);
    expect(on('average').notes.join()).not.toMatch(/10-1/);
  });

  it('is the usual rain where the plan has none', () => {
    expect(waterEvent(settings({})).totalMm).toBe(defaultRainMm);
    expect(eventDepthMm(settings({ event: 'thaw' }))).toBe(defaultRainMm);
  });

  it('is nothing at all without rain', () => {
    const event = waterEvent(settings({ storm: { rain_mm: 0, pattern: 'nrcs-type-3' } }));
    expect(event.totalMm).toBe(0);
    expect(event.runOff(roof).totalMm).toBe(0);
    expect(Math.max(...event.runOff(roof).series.depthsMm)).toBe(0);
  });
});

describe('a thaw', () => {
  it('melts by the day, never more than there is', () => {
    const days = meltDays(thaw());
    expect(days.map(({ meltMm }) => Number(meltMm.toFixed(2)))).toEqual([13.7, 6.3, 0]);
    expect(days.map(({ rainMm }) => rainMm)).toEqual([0, 0, 6]);
    expect(days[2].snowLeftMm).toBe(0);
    expect(eventDepthMm(thawing())).toBeCloseTo(26, 12);
  });

  it('takes the coefficient and the base of the plan', () => {
    const days = meltDays(thaw({ melt_mm_per_c_day: 2, base_c: 1 }));
    expect(days[0].meltMm).toBe(8);
  });

  it('melts by day and rains day and night', () => {
    const { depthsMm } = thawSeries(thaw());
    expect(depthsMm.length).toBe(72);
    expect(Math.max(...depthsMm.slice(0, 8), ...depthsMm.slice(20, 32))).toBeLessThan(1e-12);
    expect(depthsMm[13]).toBeCloseTo(depthsMm[14], 9);
    expect(depthsMm[13]).toBeGreaterThan(depthsMm[9]);
    expect(depthsMm.slice(0, 24).reduce((a, b) => a + b, 0)).toBeCloseTo(13.7, 9);
    for (const hour of [48, 55, 71]) expect(depthsMm[hour]).toBeCloseTo(0.25, 9);
  });

  it('runs off frozen ground whole', () => {
    const event = waterEvent(thawing());
    expect(event.kind).toBe('thaw');
    for (const surface of [lawn, roof, paving]) {
      expect(event.runOff(surface).totalMm).toBeCloseTo(26, 9);
    }
    expect(event.notes.join(' ')).toMatch(/frozen: nothing soaks in.*assumption/);
    expect(event.notes.join(' ')).toMatch(/No published rule/);
  });

  it('soaks into wet ground at the least rate of its group, into thawed ground faster', () => {
    // Group C takes 0.05 in, 1.27 mm, an hour at least; the middle of its range is twice that.
    const taken = (depth: number, rate: number): number => Math.max(0, depth - rate);
    const hours = [...thawSeries(thaw()).depthsMm];
    const beyond = (rate: number): number =>
      hours.map((depth) => taken(depth, rate)).reduce((a, b) => a + b, 0);
    const on = (ground: ThawSettings['ground'], surface = lawn): number =>
      waterEvent(thawing({ ground })).runOff(surface).totalMm;
    expect(on('wet')).toBeCloseTo(beyond(1.27), 9);
    expect(on('wet')).toBeGreaterThan(0);
    expect(on('wet')).toBeLessThan(26);
    expect(on('thawed')).toBeCloseTo(beyond(2.54), 9);
    expect(on('wet', { ...lawn, group: 'D' })).toBeCloseTo(26, 9);
    expect(on('thawed', { ...lawn, group: 'A' })).toBe(0);
    expect(on('thawed', paving)).toBeCloseTo(26, 9);
  });

  it('soaks in by the hour, whatever the steps of the melt', () => {
    const halfHours = { stepS: 1800, depthsMm: Float64Array.of(0.4, 1, 3) };
    expect([...beyondInfiltration(halfHours, 2).depthsMm]).toEqual([0, 0, 2]);
  });

  it('has the same totals in steps of any length', () => {
    const plan = thawing({ ground: 'wet' });
    const total = waterEvent(plan).runOff(lawn).totalMm;
    expect(runOffLaw(plan).runOffMm(lawn)).toBe(total);
    for (const stepS of [60, 420, 1800, 7200]) {
      const event = waterEvent(plan, { stepS });
      expect(totalMm(event.series)).toBe(event.totalMm);
      expect(event.runOff(lawn).totalMm).toBe(total);
    }
  });

  it('does nothing in the cold', () => {
    const event = waterEvent(thawing({ days: [{ mean_c: -5 }] }));
    expect(event.totalMm).toBe(0);
    expect(event.runOff(roof).totalMm).toBe(0);
  });

  it('asks about a day that is too warm for snow', () => {
    const notes = (mean_c: number) =>
      runOffLaw(thawing({ days: [{ mean_c: 4 }, { mean_c }] })).notes.join(' ');
    expect(notes(41)).toMatch(/Day 2 of the thaw has a mean of 41 °C.*°F, correct it/);
    expect(notes(12)).not.toContain('°F');
  });

  it('is said to be missing where the plan asks for it without its snow', () => {
    const asked = settings({ event: 'thaw', storm: { rain_mm: 12 } });
    expect(waterEvent(asked).notes.join(' ')).toContain('asks for a thaw but describes none');
    const plain = waterEvent(settings({ storm: { rain_mm: 12 } }));
    expect(plain.notes.join(' ')).not.toContain('thaw');
  });

  it('is not looked at unless the plan says so', () => {
    expect(waterEvent(settings({ thaw: thaw(), storm: { rain_mm: 12 } })).totalMm).toBe(12);
  });
});

describe('an event on the ground', () => {
  const lot = polygonOf('own', box(10, 10, 30, 30), { kind: 'lot', own: true });
  const run = (more: Partial<Settings>) => {
    const plan = planOf([lot], more);
    const elevation = groundOf(40, 40, 0.5, (_, y) => 3 + 0.04 * y);
    const shape = shapeGround(elevation, plan);
    const storm = stormOnGround(shape, plan, eventDepthMm(plan.plan.lotfall));
    return { storm, row: ledger(shape, storm, plan, 0) };
  };
  const areaM2 = 400;

  it('lets wet ground shed more', () => {
    const average = run({ storm: { rain_mm: 40 } }).row;
    const wet = run({ storm: { rain_mm: 40, antecedent: 'wet' } });
    expect(average.soaked_m3).toBeCloseTo((areaM2 * (40 - runOffMm(40, 74))) / 1000, 6);
    expect(wet.row.soaked_m3).toBeCloseTo((areaM2 * (40 - runOffMm(40, 88))) / 1000, 6);
    expect(Math.abs(wet.row.error_m3)).toBeLessThan(1e-9);
    expect(wet.storm.notes.join()).toMatch(/wet before the storm/);
  });

  it('lets a thaw run off frozen ground whole, and some of it into wet ground', () => {
    const frozen = run({ event: 'thaw', thaw: thaw() });
    expect(frozen.storm.rainMm).toBeCloseTo(26, 12);
    expect(frozen.row.rain_m3).toBeCloseTo((areaM2 * 26) / 1000, 6);
    expect(frozen.row.soaked_m3).toBeCloseTo(0, 9);
    expect(frozen.storm.durationH).toBe(72);
    const wet = run({ event: 'thaw', thaw: thaw({ ground: 'wet' }) });
    const law = runOffLaw(thawing({ ground: 'wet' }));
    expect(wet.row.soaked_m3).toBeCloseTo((areaM2 * (26 - law.runOffMm(lawn))) / 1000, 6);
    expect(Math.abs(wet.row.error_m3)).toBeLessThan(1e-9);
  });
});

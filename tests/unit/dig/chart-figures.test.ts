import { describe, expect, it } from 'vitest';
import type { DesignedSeries } from '../../../lib/basin/design/design-result';
import {
  chartDepth,
  chartFigures,
  readingText,
} from '../../../src/app/questions/dig/charts/chart-figures';

const series: DesignedSeries = {
  time_h: [0, 1, 2, 3, 10, 40],
  inflow_m3_per_h: [0, 6, 0.6, 0, 0, 0],
  depth_m: [0, 0.15, 0.16, 0.1, 0.0002, 0],
  layers_m3: [1, 2, 3, 3, 2, 1],
  soaked_m3_per_h: [0, 0.1, 0.1, 0.1, 0.1, 0.1],
  underdrain_m3_per_h: [0, 0, 0, 0, 0, 0],
  overflow_m3_per_h: [0, 0, 1.2, 0, 0, 0],
};

describe('what the chart of filling draws', () => {
  it('in litres a minute and centimetres, or gallons and inches', () => {
    const metric = chartFigures(series, 'metric');
    expect(metric.inflow[1]).toBeCloseTo(100, 9);
    expect(metric.depth[2]).toBeCloseTo(16, 9);
    const us = chartFigures(series, 'us');
    expect(us.inflow[1]).toBeCloseTo(26.417, 3);
    expect(us.depth[2]).toBeCloseTo(6.299, 3);
    expect(chartDepth(0.1524, 'us')).toBeCloseTo(6, 9);
  });

  it('ends when the surface is empty, or when nothing more comes', () => {
    expect(chartFigures(series, 'metric').timeH).toEqual([0, 1, 2, 3, 10]);
    expect(chartFigures(series, 'metric', true).timeH).toEqual([0, 1, 2, 3]);
  });

  it('reads an entry out in words', () => {
    const figures = chartFigures(series, 'metric');
    expect(readingText(figures, 2)).toBe(
      'After 2 h: water 16 cm deep, 10 L/min coming in, 20 L/min overflowing.',
    );
    expect(readingText(figures, 4)).toBe(
      'After 10 h: water under 0.1 cm deep, 0 L/min coming in, no overflow.',
    );
  });

  it('draws a storm that brings nothing', () => {
    const nothing = {
      ...series,
      inflow_m3_per_h: [0],
      time_h: [0],
      depth_m: [0],
      overflow_m3_per_h: [0],
    };
    expect(chartFigures(nothing, 'metric').timeH).toEqual([0]);
  });
});

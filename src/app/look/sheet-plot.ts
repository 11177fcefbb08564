import type uPlot from 'uplot';

/** A colour of the sheet as it is now, day or night. */
export function ink(name: string): () => string {
  return () => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}

/** Room that an axis of values takes beside a plot, pixels: the same for plots above one another. */
const axisWidth = 44;

/** An axis in the sheet's lettering. */
export function sheetAxis(label: string, side: 'time' | 'value'): uPlot.Axis {
  const font = "12px 'Barlow Semi Condensed', 'Arial Narrow', sans-serif";
  return {
    stroke: ink('--ink-2'),
    font,
    labelFont: font,
    label,
    labelSize: 16,
    labelGap: 0,
    size: side === 'time' ? 26 : axisWidth,
    grid: { stroke: ink('--hair'), width: 0.5 },
    ticks: { stroke: ink('--hair'), width: 0.5, size: 4 },
  };
}

/** Steps at which an axis of hours may be ticked. */
export const hourSteps = [0.05, 0.1, 0.25, 0.5, 1, 2, 3, 6, 12, 24, 48, 96, 240, 480];

/** A cursor that reads one time off plots that share a key. */
export function timeCursor(key: string): uPlot.Cursor {
  return { y: false, points: { size: 7 }, drag: { x: false, y: false }, sync: { key } };
}

/** Sets the cursors of plots to a time, unknown to their hooks. */
export function standAt(plots: readonly uPlot[], time: number): void {
  // New data and their scale are taken over after this; the line is set then.
  queueMicrotask(() => {
    for (const plot of plots) {
      plot.setCursor({ left: plot.valToPos(time, 'x'), top: 0 }, false);
    }
  });
}

/**
 * Puts plots into a box once their library is there, keeps them as wide as it and in the colours of the theme, and takes
 * them away with it.
 *
 * @param make - the plots, drawn into the box.
 * @param told - hears when the plots are gone, and when the library could not be loaded.
 */
export function hangPlots(
  make: (box: HTMLElement, Plot: typeof uPlot) => readonly uPlot[],
  told: { gone: () => void; failed: () => void },
): (box: HTMLElement) => () => void {
  return (box) => {
    let isGone = false;
    let made: readonly uPlot[] = [];
    const resized = new ResizeObserver(() => {
      if (box.clientWidth === 0) return;
      for (const plot of made) plot.setSize({ width: box.clientWidth, height: plot.height });
    });
    const themed = new MutationObserver(() => {
      for (const plot of made) plot.redraw();
    });
    Promise.all([import('uplot'), import('uplot/dist/uPlot.min.css')]).then(
      ([{ default: Plot }]) => {
        if (isGone) return;
        made = make(box, Plot);
        resized.observe(box);
        themed.observe(document.documentElement, { attributeFilter: ['data-theme'] });
      },
      () => {
        told.failed();
      },
    );
    return () => {
      isGone = true;
      resized.disconnect();
      themed.disconnect();
      for (const plot of made) plot.destroy();
      told.gone();
    };
  };
}

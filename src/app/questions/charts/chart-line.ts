import type uPlot from 'uplot';
import { ink } from '../../look/sheet-plot';

/** How one line of a chart is drawn, in its plot and in the legend alike: never by colour alone. */
export interface ChartLine {
  readonly label: string;
  /** A colour of the sheet, `--water` say. */
  readonly stroke: string;
  readonly width: number;
  readonly dash?: readonly number[];
  /** Fills down to the axis. */
  readonly fill?: string;
  /** Whether an entry is the mean of the time before it, drawn as a step. */
  readonly isMean?: boolean;
}

/** The line as the plot library has it. */
export function plotted(
  { stroke, width, dash, fill, isMean }: ChartLine,
  Plot: typeof uPlot,
): uPlot.Series {
  const paths = isMean === true ? Plot.paths.stepped?.({ align: -1 }) : undefined;
  return {
    stroke: ink(stroke),
    width,
    points: { show: false },
    ...(dash === undefined ? {} : { dash: [...dash] }),
    ...(fill === undefined ? {} : { fill: ink(fill) }),
    ...(paths === undefined ? {} : { paths }),
  };
}

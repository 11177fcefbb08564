/** Where a part of a roof's water enters the ground, or how it leaves. */
export interface RoofOutlet {
  readonly roof: string;
  /** Downspout, or null for water that drips off the eaves of a roof without any. */
  readonly downspout: string | null;
  /** Plan area of roof that drains here, m2. */
  readonly areaM2: number;
  /** Whether it reaches open ground, the storm sewer, or a place beyond the elevation data. */
  readonly to: 'ground' | 'storm-sewer' | 'off-map';
  /** Cells that receive the water in equal parts; empty when it does not reach the ground. */
  readonly cells: Int32Array<ArrayBuffer>;
  /** Held back first, by a barrel or a soakaway, m3. */
  readonly barrelM3: number;
  /** Drain pipe that takes the water to its lower end, or null. */
  readonly pipe: string | null;
  /** Cells that receive what the pipe cannot carry; empty without a pipe. */
  readonly overCells: Int32Array<ArrayBuffer>;
}

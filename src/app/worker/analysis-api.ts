import type { DrainageResult, Contributing, FlowLine } from '../../../lib/drainage/drainage-result';
import type { Ledger } from '../../../lib/drainage/ledger';
import type { Grid } from '../../../lib/elevation/grid';
import type { FrameSpec, LngLat } from '../../../lib/frame/frame';
import type { Plan } from '../../../lib/plan/schema';
import type { ContourLine, Corners, RasterImage } from '../map/map-props';

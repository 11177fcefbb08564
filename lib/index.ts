/**
 * Lotfall as a library: read elevation and a plan, shape the ground, pour a storm, check setbacks, find sites.
 * Everything is plain data and pure functions; numbers are SI.
 */
export { openElevation } from './elevation/open-elevation';
export type {
  ElevationDescription,
  ElevationFile,
  ElevationSource,
} from './elevation/open-elevation';
export { readWindow } from './elevation/read-window';
export type { Elevation, WindowRequest } from './elevation/read-window';
export { cellAt, cellCentre, elevationAt } from './elevation/grid';
export type { Grid } from './elevation/grid';
export { writeGeoTiff } from './elevation/write-geotiff';
export { contours } from './elevation/contours';
export { makeFrame, localFrame } from './frame/frame';
export type { Frame, FrameSpec, LngLat, XY } from './frame/frame';
export { readPlan } from './plan/read-plan';
export { writePlan } from './plan/write-plan';
export { planArea, planOutline } from './plan/plan-area';
export { toLocal } from './plan/local-plan';
export type { LocalPlan } from './plan/local-plan';
export type { Plan, PlanFeature } from './plan/schema';
export { ground } from './ground/ground';
export type { Ground } from './ground/ground';
export { buildTerrain } from './drainage/terrain';
export type { Terrain } from './drainage/terrain';
export { lowSpots } from './drainage/low-spots';
export type { LowSpot } from './drainage/low-spots';
export { surveyLot } from './drainage/survey-lot';
export { shapeGround } from './drainage/shaped-ground';
export type { ShapedGround } from './drainage/shaped-ground';
export { stormOnGround } from './drainage/storm-on-ground';
export type { StormOnGround } from './drainage/storm-on-ground';
export { drainLot } from './drainage/drain-lot';
export type { DrainageResult } from './drainage/drainage-result';
export { contributingArea } from './drainage/contributing-area';
export { ledger } from './drainage/ledger';
export type { Ledger } from './drainage/ledger';
export { probePoint } from './drainage/probe-point';
export { checkSetbacks } from './setback/check';
export type { SetbackFindings } from './setback/setback-result';
export { ruleSetById, ruleSets } from './setback/rule-sets';
export { parseRuleSet } from './setback/rule';
export type { RuleSet } from './setback/rule';
export { findSites } from './siting/find-sites';
export type { SitingResult } from './siting/siting-input';
export { Cancelled, InputError } from './errors';
export { certainty, prepareCertainty } from './drainage/certainty';
export { mergeTallies } from './drainage/certainty-tallies';
export { summarise } from './drainage/certainty-result';
export { errorsOf } from './drainage/error-defaults';
export { designBasins } from './basin/design-basin';
export type { DesignResult } from './basin/design-result';
export { basinAsBuilt } from './basin/as-built';
export { fillAndDrain } from './basin/fill-and-drain';
export { longRun } from './basin/long-run';
export { uptakeOf } from './basin/uptake-of';
export { withUptake } from './drainage/basin-uptake';
export { whatChanged } from './drainage/what-changed';
export { designInfiltration } from './soil/design-infiltration';
export { waterEvent } from './storm/water-event';
export { readRuleSet } from './setback/read-rule-set';
export { locateRequest } from './setback/locate-request';

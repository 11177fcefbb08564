/**
 * Lotfall as a library: read elevation and a plan, shape the ground, let it rain, check setbacks, find sites.
 * Everything is plain data and pure functions; numbers are SI and finite unless said otherwise.
 *
 * What cannot be used is an `InputError` with one sentence; its `code` can be branched on. What one function gives goes
 * into the next as it is: arrays are shared, not copied, and a plan in metres, a ground and a storm belong to the same
 * elevation and to each other, which is not checked.
 */
export { Cancelled, InputError } from './errors';
export type { InputProblem, Progress } from './errors';
export type { Source } from './source';

// Elevation
export { openElevation } from './elevation/open-elevation';
export type {
  ElevationDescription,
  ElevationFile,
  ElevationSource,
} from './elevation/open-elevation';
export { readWindow, verticalReadings } from './elevation/read-window';
export type { Area } from './elevation/area';
export type { Elevation, VerticalReading, WindowRequest } from './elevation/read-window';
export { elevationIdentity } from './elevation/elevation-identity';
export type { ElevationIdentity } from './elevation/elevation-identity';
export type { Note } from './elevation/note';
export { cellAt, cellCentre, elevationAt } from './elevation/grid';
export type { Grid } from './elevation/grid';
export { writeGeoTiff } from './elevation/write-geotiff';
export type { WriteGeoTiffOptions } from './elevation/write-geotiff';
export { contours } from './elevation/contours';
export type { ContourLevel, ContourOptions } from './elevation/contours';

// The plan and its frame
export { makeFrame, localFrame } from './frame/frame';
export type { Frame, FrameSpec, LngLat, XY } from './frame/frame';
export { readPlan } from './plan/read-plan';
export type { PlanRead } from './plan/read-plan';
export { writePlan } from './plan/write-plan';
export { applyChange } from './plan/change';
export type { Change } from './plan/change';
export { planArea, planOutline } from './plan/plan-area';
export type { LngLatBox } from './plan/plan-area';
export { drawnOn, onElevation } from './plan/named-elevation';
export { ownLot } from './plan/own-lot';
export { toLocal } from './plan/local-plan';
export type { LocalFeature, LocalPlan } from './plan/local-plan';
export type { FeatureOf, Kind, Plan, PlanFeature, Settings } from './plan/schema';

// Storm, thaw and soil
export { waterEvent } from './storm/water-event';
export type { WaterEvent } from './storm/water-event';
export { eventDepthMm, thawOf } from './storm/event-depth';
export { eventDuration } from './storm/event-duration';
export { readMeasuredRain } from './storm/read-measured-rain';
export { readDepthTable } from './storm/read-depth-table';
export { percentileDepth, readRainRecord } from './storm/percentile-depth';
export { TableQuestion } from './storm/table-question';
export type { TableAnswers, TableChoice } from './storm/table-question';
export { designInfiltration } from './soil/design-infiltration';
export type { DesignInfiltration } from './soil/design-infiltration';

// Ground and water
export { ground, groundWithoutBasins } from './ground/ground';
export type { Ground } from './ground/ground';
export { buildTerrain } from './drainage/terrain';
export type { Terrain } from './drainage/terrain';
export { Workspace } from './drainage/workspace';
export { lowSpots } from './drainage/low-spots';
export type { LowSpot, LowSpotsOptions } from './drainage/low-spots';
export { surveyLot } from './drainage/survey-lot';
export type { Survey, SurveyOptions } from './drainage/survey-lot';
export { shapeGround } from './drainage/shaped-ground';
export type { ShapedGround } from './drainage/shaped-ground';
export { stormOnGround } from './drainage/storm-on-ground';
export type { StormOnGround } from './drainage/storm-on-ground';
export { withUptake } from './drainage/basin-uptake';
export { drainLot } from './drainage/drain-lot';
export type { DrainAbout } from './drainage/drain-lot';
export type { Contributing, DrainageResult } from './drainage/drainage-result';
export { contributingArea } from './drainage/contributing-area';
export { ledger } from './drainage/ledger';
export type { Ledger } from './drainage/ledger';
export { probePoint } from './drainage/probe-point';
export type { PointAnswer } from './drainage/probe-point';
export { flowLines } from './drainage/flow-lines';
export { pipeLines } from './drainage/pipe-lines';
export { drainageFeatures } from './drainage/drainage-features';
export { certaintyRasters, resultRasters } from './drainage/result-rasters';
export { whatChanged } from './drainage/what-changed';
export type { Difference } from './drainage/what-changed';

// How sure the answer is
export { certainty, prepareCertainty } from './drainage/certainty';
export type { CertaintyInput, CertaintyRange, CertaintyStudy } from './drainage/certainty';
export { untilSettled } from './drainage/certainty-rounds';
export { mergeTallies } from './drainage/certainty-tallies';
export type { Tallies } from './drainage/certainty-tallies';
export { summarise } from './drainage/certainty-result';
export type { CertaintyResult } from './drainage/certainty-result';
export { withCertainty } from './drainage/with-certainty';
export type { CertainDrainage } from './drainage/with-certainty';
export { sensitivity } from './drainage/sensitivity';
export { errorsOf } from './drainage/error-defaults';

// Basins
export { designBasins } from './basin/design-basin';
export { isDesigned } from './basin/design-result';
export type { BasinDesign, BasinNotDug, DesignResult } from './basin/design-result';
export { basinAsBuilt } from './basin/as-built';
export type { BasinAsBuilt } from './basin/as-built';
export { fillAndDrain } from './basin/fill-and-drain';
export type { Inflow } from './basin/fill-and-drain';
export { longRun } from './basin/long-run';
export type { LongRun, LongRunOptions, RecordedRain } from './basin/long-run';
export { recordedRain } from './basin/recorded-rain';
export { builtOf, uptakeOf } from './basin/for-drainage';

// Setbacks
export { checkSetbacks } from './setback/check';
export type {
  CheckedBasin,
  SetbackFindings,
  SetbackInput,
  SetbackResult,
} from './setback/setback-result';
export { checkedBasins } from './setback/checked-basins';
export { waterAtBasins } from './setback/water-at-basins';
export type { WaterAtBasins } from './setback/water-at-basins';
export { ruleSetById, ruleSets, ruleSetsOf } from './setback/rule-sets';
export { parseRuleSet } from './setback/rule';
export type { Rule, RuleSet } from './setback/rule';
export { readRuleSet } from './setback/read-rule-set';
export { clearLocates } from './setback/locates';
export type { ClearLocate } from './setback/locates';
export { locateRequest, locateTerms } from './setback/locate-request';
export type { LocateRequest } from './setback/locate-request';
export { locateRequestText } from './setback/locate-request-text';
export { setbackTable } from './setback/setback-table';

// Places for a basin
export { askLot, findSites } from './siting/find-sites';
export type { SitesQuestion } from './siting/find-sites';
export type { CandidateSite, SitingResult } from './siting/siting-input';

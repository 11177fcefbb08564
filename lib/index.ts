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
export { openElevation } from './elevation/file/open-elevation';
export type {
  ElevationDescription,
  ElevationFile,
  ElevationSource,
} from './elevation/file/open-elevation';
export { readWindow, verticalReadings } from './elevation/window/read-window';
export type { Area } from './elevation/window/area';
export type { Elevation, VerticalReading, WindowRequest } from './elevation/window/read-window';
export { elevationIdentity } from './elevation/file/elevation-identity';
export type { ElevationIdentity } from './elevation/file/elevation-identity';
export type { Note } from './elevation/note';
export { cellAt, cellCentre, elevationAt } from './elevation/grid';
export type { Grid } from './elevation/grid';
export { writeGeoTiff } from './elevation/writing/write-geotiff';
export type { WriteGeoTiffOptions } from './elevation/writing/write-geotiff';
export { contours } from './elevation/picture/contours';
export type { ContourLevel, ContourOptions } from './elevation/picture/contours';

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

// What a designer has been given, brought into the plan
export { readFound } from './gather/read-found';
export type { Found, FoundLayer, GivenFile } from './gather/found-layer';
export { guessKind } from './gather/guess-kind';
export type { KindGuess, KindUse } from './gather/guess-kind';
export { guessColumns } from './gather/guess-columns';
export type { ColumnUses } from './gather/guess-columns';
export { systemOfCode } from './gather/system-of';
export type { PlacedSystem } from './gather/system-of';
export { intoPlan } from './gather/into-plan';
export type { Gathered, GatheredLayer, GatherOptions, LayerToGather } from './gather/into-plan';

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
export { buildTerrain } from './drainage/terrain/terrain';
export type { Terrain } from './drainage/terrain/terrain';
export { Workspace } from './drainage/terrain/workspace';
export { lowSpots } from './drainage/answer/low-spots';
export type { LowSpot, LowSpotsOptions } from './drainage/answer/low-spots';
export { surveyLot } from './drainage/storm/survey-lot';
export type { LevelTieRow } from './drainage/answer/level-ties';
export { surveyLevels } from './drainage/storm/survey-levels';
export { hasLevels, levelReadings, type LevelReading } from './levels/readings';
export type { Survey, SurveyOptions } from './drainage/storm/survey-lot';
export { shapeGround } from './drainage/storm/shaped-ground';
export type { ShapedGround } from './drainage/storm/shaped-ground';
export { stormOnGround } from './drainage/storm/storm-on-ground';
export type { StormOnGround } from './drainage/storm/storm-on-ground';
export { withUptake } from './drainage/storm/basin-uptake';
export { drainLot } from './drainage/answer/drain-lot';
export type { DrainAbout } from './drainage/answer/drain-lot';
export type { Contributing, DrainageResult } from './drainage/answer/drainage-result';
export { contributingArea } from './drainage/answer/contributing-area';
export { ledger } from './drainage/answer/ledger';
export type { Ledger } from './drainage/answer/ledger';
export { lineCrossings } from './drainage/answer/line-crossings';
export type { CrossingRow, LineCrossings } from './drainage/answer/line-crossings';
export { crossingPairs } from './drainage/answer/crossing-pairs';
export type { CrossingPair } from './drainage/answer/crossing-pairs';
export { probePoint } from './drainage/answer/probe-point';
export type { PointAnswer } from './drainage/answer/probe-point';
export { flowLines } from './drainage/answer/flow-lines';
export { pipeLines } from './drainage/answer/pipe-lines';
export { drainageFeatures } from './drainage/answer/drainage-features';
export { resultRasters } from './drainage/answer/result-rasters';
export { certaintyRasters } from './drainage/certainty/certainty-rasters';
export { whatChanged } from './drainage/answer/what-changed';
export type { Difference } from './drainage/answer/what-changed';

// How sure the answer is
export { certainty, prepareCertainty } from './drainage/certainty/certainty';
export type {
  CertaintyInput,
  CertaintyRange,
  CertaintyStudy,
} from './drainage/certainty/certainty';
export { untilSettled } from './drainage/certainty/certainty-rounds';
export { mergeTallies } from './drainage/certainty/certainty-tallies';
export type { Tallies } from './drainage/certainty/certainty-tallies';
export { summarise } from './drainage/certainty/certainty-result';
export type { CertaintyResult } from './drainage/certainty/certainty-result';
export { withCertainty } from './drainage/certainty/with-certainty';
export type { CertainDrainage } from './drainage/certainty/with-certainty';
export { sensitivity } from './drainage/certainty/sensitivity';
export { errorsOf } from './drainage/height-error/error-defaults';

// Basins
export { designBasins } from './basin/design/design-basins';
export { isDesigned } from './basin/design/design-result';
export type { BasinDesign, BasinNotDug, DesignResult } from './basin/design/design-result';
export { basinAsBuilt } from './basin/form/as-built';
export type { BasinAsBuilt } from './basin/form/as-built';
export { fillAndDrain } from './basin/filling/fill-and-drain';
export type { Inflow } from './basin/filling/fill-and-drain';
export { longRun } from './basin/filling/long-run';
export type { LongRun, LongRunOptions, RecordedRain } from './basin/filling/long-run';
export { recordedRain } from './basin/filling/recorded-rain';
export { builtOf, uptakeOf } from './basin/design/for-drainage';

// Setbacks
export { checkSetbacks } from './setback/judge/check-setbacks';
export type { SetbackFindings, SetbackResult } from './setback/judge/setback-result';
export type { SetbackInput } from './setback/judge/setback-input';
export type { CheckedBasin } from './setback/rules/checked-basins';
export { checkedBasins } from './setback/rules/checked-basins';
export { waterAtBasins } from './setback/water/water-at-basins';
export type { WaterAtBasins } from './setback/water/water-at-basins';
export { ruleSetById, ruleSets, ruleSetsOf } from './setback/sets/rule-sets';
export { parseRuleSet } from './setback/rules/read-rule-set';
export type { Rule, RuleSet } from './setback/rules/rule';
export { readRuleSet } from './setback/rules/read-rule-set';
export { clearLocates } from './setback/locate/locates';
export type { ClearLocate } from './setback/locate/locates';
export { locateRequest, locateTerms } from './setback/locate/locate-request';
export type { LocateRequest } from './setback/locate/locate-request';
export { locateRequestText } from './setback/locate/locate-request-text';
export { setbackTable } from './setback/judge/setback-table';
export { sinceLast } from './setback/submission/since-last';
export type { SinceLast } from './setback/submission/since-last';
export { planDifference } from './plan/plan-difference';
export type { PlanDifference } from './plan/plan-difference';
export { madeFrom } from './setback/judge/made-from';
export type { MadeFrom } from './setback/judge/made-from';

// Places for a basin
export { remedySteps } from './remedies/remedies';
export type { RemediesQuestion } from './remedies/remedies';
export type { Proposal, RemediesResult, RemedyNews } from './remedies/remedies-result';
export { askLot, findSites } from './siting/answer/find-sites';
export type { SitesQuestion } from './siting/answer/find-sites';
export type { CandidateSite, SitingResult } from './siting/sizing/siting-result';

// From design to dug garden
export { gardenOf, needsOf, together } from './handover/orders/needs';
export type { Garden, Need } from './handover/orders/needs';
export { readPriceList } from './handover/orders/price-list';
export { orderList } from './handover/orders/order-list';
export type { OrderList } from './handover/orders/order-list';
export { readSpan } from './handover/dates/notice';
export { jobDates } from './handover/dates/job-dates';
export type { DatesQuestion, JobDates } from './handover/dates/job-dates';
export { calendarOf } from './handover/dates/calendar';
export { jobDocuments } from './handover/job/job-documents';
export type { JobDocuments } from './handover/job/job-documents';
export { workTime } from './handover/building/digging-time';
export { workSteps } from './handover/building/steps';
export { readPlantList } from './planting/read-plant-list';
export { starterLists } from './planting/starter-lists';
export { plantingPlan } from './planting/planting-plan';
export type { PlantingPlan } from './planting/planting-plan';
export { exportLayers } from './handover/export/export-layers';
export { readLog } from './handover/log/read-log';
export { gardenLog } from './handover/log/garden-log';

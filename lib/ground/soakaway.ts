/**
 * A soakaway where the plan does not say: a metre of stone of which 35 of 100 parts are gaps, a foot under the ground. Common
 * practice, no source; crates hold 95.
 */
export const soakawayDefaults = { depthM: 1, voidRatio: 0.35, coverM: 0.3 } as const;

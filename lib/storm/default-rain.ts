/**
 * Rain looked at where the plan names no storm, millimetres: about the 1.25 in that Iowa's stormwater manual
 * (section 2C-6, read) uses as the depth which nine storms in ten do not exceed.
 */
export const defaultRainMm = 32;

/** What the user has said of the job of building: days, people, prices, plants. Kept with the plan; nothing of it is assumed. */
import * as v from 'valibot';

/** As long as a table that is kept in a plan may be, signs. */
export const longestTable = 200_000;

const words = v.pipe(v.string(), v.maxLength(80));
/** Month and day of any year. */
const dayOfYear = v.pipe(
  v.string(),
  v.regex(/^(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])$/, 'expected month and day such as 05-15'),
);

/** A table as its file has it, so that it is read by the same rules wherever it comes from. */
const keptTable = v.looseObject({
  /** What its file is called. */
  name: v.string(),
  csv: v.pipe(v.string(), v.maxLength(longestTable)),
});

export type KeptTable = v.InferOutput<typeof keptTable>;

/** @param isoDate - a day such as 2027-05-08. */
export function jobSettings(isoDate: v.GenericSchema<string>) {
  return v.looseObject({
    /** First day of digging. */
    dig: v.optional(isoDate),
    dig_days: v.optional(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(366))),
    /** Of the public service, in its own words: '3 business days'. */
    notice: v.optional(words),
    /** How long before digging a private locator is booked. */
    private_notice: v.optional(words),
    /** How long marks may be relied on, and from which day on that counts. */
    valid: v.optional(words),
    valid_from: v.optional(v.picklist(['request', 'start'])),
    holidays: v.optional(v.array(isoDate)),
    last_frost: v.optional(dayOfYear),
    first_frost: v.optional(dayOfYear),
    /** Day of planting; the day after digging when not given. */
    plant: v.optional(isoDate),
    /** How long before they come things are to be ordered. */
    lead: v.optional(words),
    /** Things hired for the days of digging. */
    hires: v.optional(v.array(words)),
    people: v.optional(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(50))),
    /** From the hole to where the soil goes. */
    wheel_m: v.optional(v.pipe(v.number(), v.minValue(0.1), v.maxValue(1000))),
    /** What a trailer or a drive bears at once. */
    payload_kg: v.optional(v.pipe(v.number(), v.minValue(1), v.maxValue(100_000))),
    price_list: v.optional(keptTable),
    quotes: v.optional(keptTable),
    /** Region of a starter list of plants; a list of one's own goes before it. */
    plant_region: v.optional(words),
    plant_list: v.optional(keptTable),
    plant_grid: v.optional(v.picklist(['square', 'triangular'])),
    /** Bearing of the place from where the garden is seen, degrees. */
    seen_from_deg: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(360))),
  });
}

export type JobSettings = v.InferOutput<ReturnType<typeof jobSettings>>;

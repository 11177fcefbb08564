import type { RainPattern } from '../plan/storm-settings';
import type { Source } from '../source';
import { steepest, shareAt, type MassCurve } from './mass-curve';
import { dayS } from '../units/units';

/** Patterns that are one of the four 24-hour curves. */
export type NrcsPattern = Extract<RainPattern, `nrcs-type-${string}`>;

/** What falls in each tenth of an hour, in hundred-thousandths of the day's depth. */
const tenths: Readonly<Record<NrcsPattern, string>> = {
  'nrcs-type-1': `
    174 174 174 175 174 175 174 175 175 175 175 175 175 176 175 176 175 176 176 176 177 181 183 186 189 192
    195 198 200 204 206 210 212 215 218 221 224 227 229 233 235 235 237 238 239 240 241 242 244 244 246 246
    248 249 250 251 252 253 255 255 261 273 283 293 305 315 327 337 347 359 366 368 372 376 378 382 384 388
    392 394 417 458 500 542 583 623 662 700 738 777 833 906 980 1054 1127 1642 2600 4242 7532 5184 1720 1540
    1360 1180 1000 888 844 800 756 712 682 666 650 634 618 602 586 570 554 538 525 515 505 495 485 475 465
    455 445 435 425 415 405 395 385 375 365 355 345 335 329 327 325 323 321 319 317 315 313 311 309 307 305
    303 301 299 297 295 293 291 289 287 285 283 281 279 277 275 273 271 269 267 265 263 261 259 257 255 253
    251 249 247 245 243 241 239 237 235 233 231 229 227 225 223 221 219 217 215 213 211 209 207 205 203 201
    199 197 195 193 191 189 187 185 183 181 179 177 175 173 171 169 167 165 163 161 159 157 155 153 151 149
    147 145 143 141 139 137 135 133 131`,
  'nrcs-type-1a': `
    224 208 196 188 184 184 188 196 208 224 276 292 304 312 316 297 298 299 301 305 315 318 321 322 324 320
    320 320 320 320 314 315 318 324 329 347 355 360 367 371 369 373 379 386 393 401 409 419 430 441 459 471
    481 490 499 494 505 518 532 551 596 612 624 632 636 585 593 612 637 673 717 770 831 901 981 2142 2327
    2407 2379 2245 1436 1232 1064 932 836 904 848 796 748 704 664 628 596 568 544 564 552 540 528 516 498
    487 478 472 465 476 468 460 452 444 436 428 420 412 404 389 383 379 375 374 373 375 379 383 390 365 362
    359 358 356 373 365 360 353 349 345 341 340 337 337 339 338 336 335 333 332 330 328 327 326 324 323 321
    319 318 316 315 314 312 310 309 307 306 304 303 301 300 298 297 295 294 292 290 289 288 286 285 283 281
    280 278 277 276 274 272 271 269 268 266 265 263 262 260 259 257 256 254 252 251 250 248 247 245 243 242
    240 239 238 236 234 233 231 230 228 227 225 224 222 221 219 218 216 214 213 212 210 209 207 205 204 202
    201 200 198 196 195 193 192 190 189`,
  'nrcs-type-2': `
    101 101 103 103 105 105 107 107 109 109 111 111 113 113 115 115 117 117 119 119 121 121 123 123 125 125
    127 127 129 129 131 131 133 133 135 135 137 137 139 139 141 143 145 147 149 151 153 155 157 159 161 163
    165 167 169 171 173 175 177 179 181 183 185 187 189 191 193 195 197 199 201 203 205 207 209 211 213 215
    217 219 225 235 245 255 265 275 285 295 305 315 320 320 320 320 320 328 344 360 376 392 412 436 460 484
    508 540 580 620 660 700 768 864 960 1056 1152 2384 4752 7643 13707 9514 1896 1668 1440 1212 984 844 792
    740 688 636 596 568 540 512 484 460 440 420 400 380 367 359 353 345 339 331 325 317 311 303 297 289 283
    275 269 261 255 247 241 233 229 226 224 221 219 216 214 211 209 206 204 201 199 196 194 191 189 186 184
    181 179 176 174 171 169 166 164 161 159 156 154 151 149 146 144 141 139 136 134 131 130 129 129 128 128
    127 127 126 126 125 125 124 124 123 123 122 122 121 121 120 120 119 119 118 118 117 117 116 116 115 115
    114 114 113 113 112 112 111 111 110`,
  'nrcs-type-3': `
    100 100 100 100 100 100 100 100 100 100 100 100 100 100 100 100 100 100 100 100 101 102 104 105 107 108
    110 111 113 114 116 117 119 120 122 123 125 126 128 129 131 132 134 135 137 138 140 141 143 144 146 147
    149 150 152 153 155 156 158 159 163 167 173 177 183 187 193 197 203 207 213 217 223 227 233 237 243 247
    253 257 266 277 289 300 312 323 335 346 358 369 381 392 404 415 427 438 450 461 473 484 502 526 550 574
    598 622 646 670 694 718 776 868 960 1052 1144 1630 2510 3390 4270 8400 8400 4270 3390 2510 1630 1144
    1052 960 868 776 718 694 670 646 622 598 574 550 526 502 484 473 461 450 438 427 415 404 392 381 369 358
    346 335 323 312 300 289 277 266 258 252 248 242 238 232 228 222 218 212 208 202 198 192 188 182 178 172
    168 162 159 158 156 155 153 152 150 149 147 146 144 143 141 140 138 137 135 134 132 131 129 129 127 126
    125 124 122 122 120 120 118 117 116 115 113 113 111 111 109 108 107 106 104 104 102 102 100 99 98 97 95
    95 93 93 91 90 89 88 86 86`,
};

const fineTable =
  'appendix B (after Technical Paper 149, 1973), as tenth-hour ordinates in the readings of a university hydrology course (CE 3354, Texas Tech, 2017-2024), which do not name their own origin';
const textbook =
  'Chow, Maidment and Mays, Applied Hydrology, 1988, p. 461, agrees to 0.007 but for single ordinates beside the peak, in a copy in the same course';

const distribution = (type: string): Source => ({
  title: `Urban Hydrology for Small Watersheds, Technical Release 55: 24-hour rainfall distribution, ${type}`,
  publisher: 'USDA Soil Conservation Service',
  year: 1986,
  section: `${fineTable}; ${textbook}`,
  mark: 'seen in a secondary copy',
});

/** Where each curve was read. None was seen as a table in the agency's own print, which has them as a graph. */
export const nrcsSources: Readonly<Record<NrcsPattern, Source>> = {
  'nrcs-type-1': distribution('type I'),
  'nrcs-type-1a': distribution('type IA'),
  // The textbook prints 0.357 at 11.75 h, which fits neither the finer table nor its own neighbours; it is not used.
  'nrcs-type-2': distribution('type II'),
  'nrcs-type-3': {
    ...distribution('type III'),
    section: `${fineTable}; a dozen ordinates agree to 0.0001 with table 2-6 of the Drainage Criteria Manual of Austin, Texas`,
  },
};

/** The share of a day's rain that has fallen by each tenth of an hour. */
export function nrcsCurve(pattern: NrcsPattern): MassCurve {
  let sum = 0;
  const shares = [0];
  for (const tenth of tenths[pattern].trim().split(/\s+/)) {
    sum += Number(tenth);
    shares.push(sum / 100_000);
  }
  return { durationS: dayS, shares };
}

/**
 * The curve of a storm shorter than a day: the stretch of that length in which most falls, taken for the whole.
 *
 * Source: common practice; the curves nest their bursts, so that each stretch is the storm of its length.
 */
export function shorterCurve(curve: MassCurve, durationS: number): MassCurve {
  if (durationS >= curve.durationS) return curve;
  const { fromS, share } = steepest(curve, durationS);
  const stepS = curve.durationS / (curve.shares.length - 1);
  const steps = Math.max(1, Math.round(durationS / stepS));
  const before = shareAt(curve, fromS);
  const shares = Array.from(
    { length: steps + 1 },
    (_, step) => (shareAt(curve, fromS + (step / steps) * durationS) - before) / share,
  );
  return { durationS, shares };
}

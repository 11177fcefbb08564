/** Finding a soil's texture with wet fingers, as questions of which each leads to the next or to a class. */
import type { UsdaTexture } from '../plan/soil-settings';

export type FeelQuestionId =
  'ball' | 'ribbon' | 'length' | 'grit-short' | 'grit-middle' | 'grit-long';

export interface FeelAnswer {
  readonly say: string;
  readonly then: { readonly ask: FeelQuestionId } | { readonly texture: UsdaTexture };
}

export interface FeelQuestion {
  readonly ask: string;
  readonly answers: readonly FeelAnswer[];
}

const rub = 'Wet a pinch of it well in the palm and rub it. What do you feel?';

function grit(gritty: UsdaTexture, neither: UsdaTexture, smooth: UsdaTexture): FeelQuestion {
  return {
    ask: rub,
    answers: [
      { say: 'mostly grit', then: { texture: gritty } },
      { say: 'some of both', then: { texture: neither } },
      { say: 'smooth as flour', then: { texture: smooth } },
    ],
  };
}

/** The question to begin with. */
export const firstFeelQuestion: FeelQuestionId = 'ball';

/** The path: ball, ribbon, its length, grit. Silt is not told from silt loam by hand. Source: `textureFeel`. */
export const feelQuestions: Readonly<Record<FeelQuestionId, FeelQuestion>> = {
  ball: {
    ask: 'Take a spoonful or two from the depth of the basin’s bottom, pick out stones and roots, and knead it with drops of water until it is like putty. Does it stay a ball when you squeeze it?',
    answers: [
      { say: 'no, it falls apart', then: { texture: 'sand' } },
      { say: 'yes', then: { ask: 'ribbon' } },
    ],
  },
  ribbon: {
    ask: 'Push the ball with your thumb over the forefinger, to an even ribbon that may hang over. Does a ribbon form?',
    answers: [
      { say: 'no', then: { texture: 'loamy-sand' } },
      { say: 'yes', then: { ask: 'length' } },
    ],
  },
  length: {
    ask: 'How long does it grow before it breaks by its own weight?',
    answers: [
      { say: 'under 2.5 cm (1 in)', then: { ask: 'grit-short' } },
      { say: '2.5 to 5 cm (1 to 2 in)', then: { ask: 'grit-middle' } },
      { say: 'over 5 cm (2 in)', then: { ask: 'grit-long' } },
    ],
  },
  'grit-short': grit('sandy-loam', 'loam', 'silt-loam'),
  'grit-middle': grit('sandy-clay-loam', 'clay-loam', 'silty-clay-loam'),
  'grit-long': grit('sandy-clay', 'clay', 'silty-clay'),
};
